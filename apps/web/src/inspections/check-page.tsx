export function CheckPage() {
  return null;
}
