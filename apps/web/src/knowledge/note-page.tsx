export function NotePage() {
  return null;
}
