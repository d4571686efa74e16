export function PastFixesPage() {
  return null;
}
