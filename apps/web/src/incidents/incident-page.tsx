export function IncidentPage() {
  return null;
}
