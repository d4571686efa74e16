export function LogPage() {
  return null;
}
