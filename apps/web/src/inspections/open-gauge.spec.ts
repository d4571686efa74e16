import { expect, it } from 'vitest';
import { openGauge, type SerialPort, type SerialState } from './open-gauge.js';

/** A port that opens when it is told to, and counts how often it was opened and closed. */
function gauge() {
  let opened = () => {};
  let pipe: ReadableStreamDefaultController<Uint8Array> | null = null;
  const calls: string[] = [];
  const stream = () => new ReadableStream<Uint8Array>({ start(controller) { pipe = controller; } });
  const port: SerialPort = {
    readable: stream(),
    open: () => new Promise((resolve) => { calls.push('open'); opened = resolve; }),
    close: async () => { calls.push('close'); },
  };
  const states: SerialState[] = [];
  const lines: string[] = [];
  const leave = openGauge({ requestPort: async () => port }, 9600, { onLine: (line) => lines.push(line), onState: (state) => states.push(state) });
  /** What was torn ends the stream; the port has another one unless it is gone. */
  const noise = (name: string) => { const torn = pipe; port.readable = stream(); torn?.error(new DOMException('torn', name)); };
  return { calls, states, lines, leave, noise, opened: () => opened(), send: (text: string) => pipe?.enqueue(new TextEncoder().encode(text)), end: (error?: Error) => (error ? pipe?.error(error) : pipe?.close()) };
}
const soon = () => new Promise((resolve) => { setTimeout(resolve, 5); });

it('hands on the lines of the gauge, and closes the port when it is left', async () => {
  const { calls, states, lines, leave, opened, send } = gauge();
  await soon(); opened(); await soon();
  send('2.3'); send('7 mm\r\n1.66 mm\n');
  await soon();
  expect(lines).toEqual(['2.37 mm', '1.66 mm']);
  leave();
  await soon();
  expect(calls).toEqual(['open', 'close']);
  expect(states).toEqual(['opening', 'on', 'off']);
  leave();
  expect(states, 'leaving twice says nothing new').toHaveLength(3);
});

it('closes a port that opens only after the page was left', async () => {
  const { calls, states, leave, opened } = gauge();
  await soon();
  leave();
  opened();
  await soon();
  expect(calls).toEqual(['open', 'close']);
  expect(states).toEqual(['opening', 'off']);
});

it('says that the gauge is gone, or that it could not be opened', async () => {
  const lost = gauge();
  await soon(); lost.opened(); await soon();
  lost.end(new Error('unplugged'));
  await soon();
  expect([lost.states, lost.calls]).toEqual([['opening', 'on', 'lost'], ['open', 'close']]);
  const states: SerialState[] = [];
  openGauge({ requestPort: async () => { throw new Error('in use'); } }, 9600, { onLine: () => {}, onState: (state) => states.push(state) });
  openGauge({ requestPort: async () => { throw new DOMException('none chosen', 'NotFoundError'); } }, 9600, { onLine: () => {}, onState: (state) => states.push(state) });
  await soon();
  expect(states).toEqual(['opening', 'opening', 'failed', 'off']);
});

it('hears on after noise on the line, without the line that was torn, and gives up where nothing else comes', async () => {
  const { calls, states, lines, opened, send, noise, end } = gauge();
  await soon(); opened(); await soon();
  send('1.70\r\n1.');
  await soon();
  noise('FramingError');
  await soon();
  send('71\r\n1.72\r\n');
  await soon();
  expect([lines, states]).toEqual([['1.70', '1.72'], ['opening', 'on']]);
  end(new DOMException('gone', 'NetworkError'));
  await soon();
  expect([states.at(-1), calls]).toEqual(['lost', ['open', 'close']]);
  const noisy = gauge();
  await soon(); noisy.opened(); await soon();
  for (let count = 0; count <= 50; count += 1) { noisy.noise('ParityError'); await soon(); }
  expect([noisy.states, noisy.calls]).toEqual([['opening', 'on', 'lost'], ['open', 'close']]);
});

it('tells that the browser forbids it from a port that is in use', async () => {
  const states: SerialState[] = [];
  for (const name of ['SecurityError', 'NotAllowedError', 'NetworkError']) openGauge({ requestPort: async () => { throw new DOMException('no', name); } }, 9600, { onLine: () => {}, onState: (state) => { if (state !== 'opening') states.push(state); } });
  await soon();
  expect(states).toEqual(['denied', 'denied', 'failed']);
});
