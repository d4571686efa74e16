export function CapabilityPage() {
  return null;
}
