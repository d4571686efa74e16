export function SignalListPage() {
  return null;
}
