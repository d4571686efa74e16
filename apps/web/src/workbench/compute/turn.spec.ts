import { expect, it } from 'vitest';
import { makeTurns } from './turn.js';

const open = () => new AbortController().signal;
function task() { let finish: (value: string) => void = () => undefined; let fail: (reason: Error) => void = () => undefined; const done = new Promise<string>((resolve, reject) => { finish = resolve; fail = reject; }); return { done, finish, fail }; }
const tick = () => new Promise((resolve) => { setImmediate(resolve); });

it('lets so many in at a time, in the order in which they came, and goes on after a failure', async () => {
  const turn = makeTurns(2);
  const begun: number[] = [];
  const tasks = [task(), task(), task(), task()];
  const all = tasks.map((one, index) => turn(open(), () => { begun.push(index); return one.done; }));
  await tick();
  expect(begun).toEqual([0, 1]);
  tasks[1]?.fail(new Error('refused'));
  await expect(all[1]).rejects.toThrow('refused');
  await tick();
  expect(begun).toEqual([0, 1, 2]);
  tasks[0]?.finish('a');
  tasks[2]?.finish('c');
  await tick();
  tasks[3]?.finish('d');
  expect(await Promise.all([all[0], all[2], all[3]])).toEqual(['a', 'c', 'd']);
  expect(begun).toEqual([0, 1, 2, 3]);
});

it('lets who gives up leave the queue without taking a turn', async () => {
  const turn = makeTurns(1);
  const [first, third] = [task(), task()];
  const abort = new AbortController();
  const one = turn(open(), () => first.done);
  const two = turn(abort.signal, () => Promise.resolve('never'));
  const three = turn(open(), () => third.done);
  abort.abort(new Error('left'));
  await expect(two).rejects.toThrow('left');
  first.finish('first');
  third.finish('third');
  expect([await one, await three]).toEqual(['first', 'third']);
  expect(await turn(open(), () => Promise.resolve('later'))).toBe('later');
});
