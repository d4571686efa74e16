import { cutLines } from './gauge-line.js';

// The part of the Web Serial API that is used here; the compiler's own types of the browser do not have it.
export type SerialPort = { open(options: { baudRate: number }): Promise<void>; close(): Promise<void>; readable: ReadableStream<Uint8Array> | null };
export type Serial = { requestPort(): Promise<SerialPort> };
export type SerialState = 'off' | 'opening' | 'on' | 'failed' | 'denied' | 'lost';
type Reader = ReadableStreamDefaultReader<Uint8Array>;

/**
 * Lets the person choose a port, opens it and hands each line to `onLine`. Answers how to leave it: whatever has begun by
 * then is taken back, the port that opens a moment later included, so that another page or program finds it free.
 */
export function openGauge(serial: Serial, baudRate: number, { onLine, onState }: { onLine: (line: string) => void; onState: (state: SerialState) => void }): () => void {
  let left = false;
  let reader: Reader | null = null;
  const say = (state: SerialState) => { if (!left) onState(state); };
  const run = async () => {
    say('opening');
    try {
      const port = await serial.requestPort();
      if (left) return;
      await port.open({ baudRate });
      reader = left ? null : port.readable?.getReader() ?? null;
      if (reader === null) {
        await closed(port);
        if (!left) throw new Error('the port cannot be read');
        return;
      }
      say('on');
      const heard = (line: string) => { if (!left) onLine(line); };
      let end = await listen(reader, heard, false);
      for (let noise = 0; end !== 'closed' && !left && noise < MOST_NOISE; noise = end === 'noise after lines' ? 0 : noise + 1) {
        reader = end === 'lost' ? null : port.readable?.getReader() ?? null;
        if (reader === null) break;
        end = await listen(reader, heard, true);
      }
      reader = null;
      await closed(port);
      say(end === 'closed' ? 'off' : 'lost');
    } catch (error) {
      say(unopened(error));
    }
  };
  void run();
  return () => {
    if (left) return;
    onState('off');
    left = true;
    reader?.cancel().catch(() => { /* It ended by itself meanwhile. */ });
  };
}

/** Closing the browser's own choice of ports is no fault. */
function unopened(error: unknown): SerialState {
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'NotFoundError') return 'off';
  return name === 'SecurityError' || name === 'NotAllowedError' ? 'denied' : 'failed';
}

/** The cable may be out: then there is nothing to close. */
const closed = (port: SerialPort): Promise<void> => port.close().catch(() => {});

/** Noise on the line ends the stream of a port, which then gives another one (Web Serial API, WICG draft, SerialPort.readable). */
const NOISE: readonly string[] = ['BreakError', 'BufferOverrunError', 'FramingError', 'ParityError'];
/** So often in a row without a line between them; then the cable or the speed is wrong. */
const MOST_NOISE = 50;

/** Reads until the stream ends, and says how. A line that was torn by noise is dropped, its beginning and (`torn`) what comes of it before the next end of a line: half a number is another number. */
async function listen(reader: Reader, onLine: (line: string) => void, torn: boolean): Promise<'closed' | 'lost' | 'noise' | 'noise after lines'> {
  const text = new TextDecoder('utf-8');
  let [rest, some, dropping] = ['', false, torn];
  try {
    for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
      let said = text.decode(piece.value, { stream: true });
      if (dropping) {
        const end = said.search(/[\r\n]/);
        if (end < 0) continue;
        [said, dropping] = [said.slice(end), false];
      }
      const cut = cutLines(rest, said);
      rest = cut.rest;
      for (const line of cut.lines) { some = true; onLine(line); }
    }
    return 'closed';
  } catch (error) {
    if (!(error instanceof DOMException && NOISE.includes(error.name))) return 'lost';
    return some ? 'noise after lines' : 'noise';
  } finally {
    reader.releaseLock();
  }
}
