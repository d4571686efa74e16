export function IncidentNewPage() {
  return null;
}
