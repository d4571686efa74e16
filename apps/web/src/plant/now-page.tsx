export function NowPage() {
  return null;
}
