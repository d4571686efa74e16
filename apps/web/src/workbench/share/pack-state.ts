import { stateShape, type WorkbenchState } from '../choices.js';

/** Beyond this many characters browsers, mail programs and chats begin to cut addresses. */
export const MOST_CHARACTERS = 30_000;
/** An address is somebody else's text: what unpacks to more than this is refused. */
const MOST_BYTES = 64 * 1024 * 1024;

/** Data and choices, deflated, as characters that may stand in an address. Nothing of it is sent to a server. */
export async function packState(state: WorkbenchState): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(state));
  return toBase64Url(await through(bytes, new CompressionStream('deflate-raw')));
}

/** The state that an address holds; null when it holds none, or was cut on its way. */
export async function unpackState(packed: string): Promise<WorkbenchState | null> {
  if (!/^[A-Za-z0-9_-]+$/.test(packed)) return null;
  try {
    const bytes = await through(fromBase64Url(packed), new DecompressionStream('deflate-raw'));
    const state = stateShape.safeParse(JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)));
    return state.success ? state.data : null;
  } catch {
    return null;
  }
}

async function through(bytes: Uint8Array<ArrayBuffer>, change: CompressionStream | DecompressionStream): Promise<Uint8Array<ArrayBuffer>> {
  const reader = new Blob([bytes]).stream().pipeThrough(change).getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > MOST_BYTES) { await reader.cancel(); throw new RangeError('unpacks to more than is taken'); }
    parts.push(value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) { whole.set(part, at); at += part.length; }
  return whole;
}

function toBase64Url(bytes: Uint8Array): string {
  let text = '';
  // In slices: a call takes no more than some ten thousand arguments.
  for (let start = 0; start < bytes.length; start += 8192) text += String.fromCharCode(...bytes.subarray(start, start + 8192));
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  const plain = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(plain, (character) => character.charCodeAt(0));
}
