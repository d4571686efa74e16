import { createServer } from 'node:net';
import { Aedes } from 'aedes';

// A process of its own: an MQTT broker on loopback, and as many in-line monitors as asked, each with one message a body.
// Spoken to by IPC: { machines, channels, bodiesAMinute, seconds } starts it, { stop } ends it; it says { port }, { sent }.
export type Order = { machines: number; channels: number; bodiesAMinute: number; seconds: number };
export type Said = { port: number } | { sent: number; behind: number };

const broker = await Aedes.createBroker();
const server = createServer(broker.handle);
server.listen(0, '127.0.0.1', () => {
  const address = server.address();
  process.send?.({ port: typeof address === 'object' && address ? address.port : 0 } satisfies Said);
});

const counters: number[] = [];
/** Readings with the noise of a process that is in control, to two decimals, from a linear congruential generator: the same in each run. */
let dice = 1;
const noise = (): number => {
  let sum = 0;
  for (let turn = 0; turn < 4; turn += 1) {
    dice = (Math.imul(dice, 1_664_525) + 1_013_904_223) >>> 0;
    sum += dice / 4_294_967_296 - 0.5;
  }
  return sum;
};

function publish(machine: number, channels: number): void {
  const body = counters[machine] ?? machine * 7919;
  counters[machine] = body + 1;
  const values = Array.from({ length: channels }, (_, channel) => (0.4 + channel / 100 + 0.01 * noise()).toFixed(3));
  broker.publish({ cmd: 'publish', topic: `bench/${machine}`, qos: 1, dup: false, retain: false, payload: Buffer.from(`{"at":${Date.now()},"body":${body},"v":[${values.join(',')}]}`) }, () => {});
}

/** Each machine has its own phase; a message that is due is sent, however late the timer wakes. */
function run({ machines, channels, bodiesAMinute, seconds }: Order): void {
  const began = performance.now();
  const every = 60_000 / bodiesAMinute;
  const each = Math.round((seconds * 1000) / every);
  const due = Array.from({ length: machines }, () => 0);
  let [sent, behind] = [0, 0];
  const timer = setInterval(() => {
    const passed = performance.now() - began;
    due.forEach((done, machine) => {
      const phase = (every * machine) / machines;
      const wanted = Math.min(each, Math.floor((passed - phase) / every) + 1);
      behind = Math.max(behind, wanted - done);
      for (let turn = done; turn < wanted; turn += 1) {
        publish(machine, channels);
        sent += 1;
      }
      due[machine] = Math.max(done, wanted);
    });
    if (sent < each * machines) return;
    clearInterval(timer);
    process.send?.({ sent, behind } satisfies Said);
  }, 5);
}

process.on('message', (order: Order | { stop: true }) => {
  if ('stop' in order) process.exit(0);
  else run(order);
});

// The bench that asked for it is gone.
process.on('disconnect', () => process.exit(0));
