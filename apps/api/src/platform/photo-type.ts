/** A photo's kind by its first bytes, or null: what a file says of itself in name or header is not believed. */
export function photoType(content: Uint8Array): 'image/jpeg' | 'image/png' | 'image/webp' | null {
  // JPEG: ISO/IEC 10918-1 start of image, then a marker. PNG: W3C PNG specification 5.2. WebP: RFC 9649, RIFF container.
  if (startsWith(content, [0xff, 0xd8, 0xff])) return 'image/jpeg';
  if (startsWith(content, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'image/png';
  if (startsWith(content, ascii('RIFF')) && startsWith(content.subarray(8), ascii('WEBP'))) return 'image/webp';
  return null;
}

const ascii = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));
const startsWith = (content: Uint8Array, bytes: readonly number[]): boolean => content.length > bytes.length && bytes.every((byte, place) => content[place] === byte);
