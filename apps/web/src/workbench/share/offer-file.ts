/** Hands a text to the browser as a file. */
export function offerFile(name: string, type: 'text/csv' | 'application/json', text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: `${type};charset=utf-8` }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // After the click the browser still reads from it.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
