export function SetUpPage() {
  return null;
}
