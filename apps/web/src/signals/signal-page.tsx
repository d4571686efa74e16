export function SignalPage() {
  return null;
}
