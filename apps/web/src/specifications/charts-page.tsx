export function ChartsPage() {
  return null;
}
