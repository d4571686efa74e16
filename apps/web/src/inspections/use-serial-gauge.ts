import { useCallback, useEffect, useRef, useState } from 'react';
import { openGauge, type Serial, type SerialState } from './open-gauge.js';

function serialOf(): Serial | null {
  const { serial } = navigator as { serial?: Serial };
  return serial && typeof serial.requestPort === 'function' ? serial : null;
}
/** Browsers without Web Serial, and pages without TLS, have none: nothing of it is shown there. */
export const hasSerial = (): boolean => serialOf() !== null;

/** A gauge on a serial port, which the person chooses. Each line that it sends is handed to `onLine`. The port is free again when the form or the page is left. */
export function useSerialGauge(baudRate: number, onLine: (line: string) => void) {
  const [state, setState] = useState<SerialState>('off');
  const heard = useRef(onLine);
  heard.current = onLine;
  const leave = useRef<(() => void) | null>(null);
  const disconnect = useCallback(() => { leave.current?.(); leave.current = null; }, []);
  useEffect(() => {
    // A page that the browser keeps for "back" would keep the port, too.
    window.addEventListener('pagehide', disconnect);
    return () => { window.removeEventListener('pagehide', disconnect); disconnect(); };
  }, [disconnect]);
  const connect = useCallback(() => {
    const serial = serialOf();
    if (!serial || leave.current) return;
    leave.current = openGauge(serial, baudRate, { onLine: (line) => heard.current(line), onState: (next) => { if (next !== 'opening' && next !== 'on') leave.current = null; setState(next); } });
  }, [baudRate]);
  return { state, connect, disconnect };
}
