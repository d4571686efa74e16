export function NoteNewPage() {
  return null;
}
