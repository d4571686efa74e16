import { cutLines } from './gauge-line.js';

// The part of the Web Serial API that is used here; the compiler's own types of the browser do not have it.
export type SerialPort = { open(options: { baudRate: number }): Promise<void>; close(): Promise<void>; readable: ReadableStream<Uint8Array> | null };
export type Serial = { requestPort(): Promise<SerialPort> };
export type SerialState = 'off' | 'opening' | 'on' | 'failed' | 'lost';

/**
 * Lets the person choose a port, opens it and hands each line to `onLine`. Answers how to leave it: whatever has begun by
 * then is taken back, the port that opens a moment later included, so that another page or program finds it free.
 */
export function openGauge(serial: Serial, baudRate: number, { onLine, onState }: { onLine: (line: string) => void; onState: (state: SerialState) => void }): () => void {
  let left = false;
  let reader: ReadableStreamDefaultReader<Uint8Array> | null = null;
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
      const whole = await listen(reader, (line) => { if (!left) onLine(line); });
      reader.releaseLock();
      reader = null;
      await closed(port);
      say(whole ? 'off' : 'lost');
    } catch (error) {
      // Closing the browser's own choice of ports is no fault.
      say(error instanceof DOMException && error.name === 'NotFoundError' ? 'off' : 'failed');
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

/** The cable may be out: then there is nothing to close. */
const closed = (port: SerialPort): Promise<void> => port.close().catch(() => {});

/** Reads until the port ends; false where it broke. */
async function listen(reader: ReadableStreamDefaultReader<Uint8Array>, onLine: (line: string) => void): Promise<boolean> {
  const text = new TextDecoder('utf-8');
  let rest = '';
  try {
    for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
      const cut = cutLines(rest, text.decode(piece.value, { stream: true }));
      rest = cut.rest;
      for (const line of cut.lines) onLine(line);
    }
    return true;
  } catch {
    return false;
  }
}
