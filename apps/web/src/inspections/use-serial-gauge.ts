import { useCallback, useEffect, useRef, useState } from 'react';
import { cutLines } from './gauge-line.js';

// The part of the Web Serial API that is used here; the compiler's own types of the browser do not have it.
type SerialPort = { open(options: { baudRate: number }): Promise<void>; close(): Promise<void>; readable: ReadableStream<Uint8Array> | null };
type Serial = { requestPort(): Promise<SerialPort> };

function serialOf(): Serial | null {
  const { serial } = navigator as { serial?: Serial };
  return serial && typeof serial.requestPort === 'function' ? serial : null;
}
/** Browsers without Web Serial, and pages without TLS, have none: nothing of it is shown there. */
export const hasSerial = (): boolean => serialOf() !== null;

export type SerialState = 'off' | 'opening' | 'on' | 'failed' | 'lost';

/** A gauge on a serial port, which the person chooses. Each line that it sends is handed to `onLine`. */
export function useSerialGauge(baudRate: number, onLine: (line: string) => void) {
  const [state, setState] = useState<SerialState>('off');
  const heard = useRef(onLine);
  heard.current = onLine;
  const stop = useRef<(() => Promise<void>) | null>(null);
  const disconnect = useCallback(() => { const end = stop.current; stop.current = null; void end?.(); }, []);
  useEffect(() => disconnect, [disconnect]);
  const connect = useCallback(async () => {
    const serial = serialOf();
    if (!serial || stop.current) return;
    setState('opening');
    try {
      const port = await serial.requestPort();
      await port.open({ baudRate });
      const reader = port.readable?.getReader();
      if (!reader) throw new Error('the port cannot be read');
      stop.current = async () => { await reader.cancel(); };
      setState('on');
      void listen(reader, (line) => heard.current(line)).then(async (whole) => {
        const wanted = stop.current === null;
        stop.current = null;
        reader.releaseLock();
        await port.close().catch(() => { /* The cable is out: there is nothing to close. */ });
        setState(wanted && whole ? 'off' : 'lost');
      });
    } catch (error) {
      // Closing the browser's own choice of ports is no fault.
      setState(error instanceof DOMException && error.name === 'NotFoundError' ? 'off' : 'failed');
    }
  }, [baudRate]);
  return { state, connect, disconnect };
}

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
