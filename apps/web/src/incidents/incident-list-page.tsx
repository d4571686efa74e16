export function IncidentListPage() {
  return null;
}
