/** Hands a file of this browser to the person, as a download. */
export function saveBlob(blob: Blob, name: string): void {
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The download has taken the address over by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
