/** At most so many requests at a time: the server takes four from one address, one that was given up counts until it notices, and another tab may want one too. */
export const AT_ONCE = 2;

type Waiting = { go: () => void };

/** Lets a few in at a time, first come first served; who gives up waiting leaves the queue. */
export function makeTurns(most: number) {
  let busy = 0;
  const queue: Waiting[] = [];
  // The place goes to the next in the queue before anyone new can take it.
  const leave = () => {
    const next = queue.shift();
    if (next) next.go();
    else busy -= 1;
  };
  return async function turn<Answer>(signal: AbortSignal, work: () => Promise<Answer>): Promise<Answer> {
    if (busy < most) busy += 1;
    else {
      await new Promise<void>((resolve, reject) => {
        const waiting: Waiting = { go: () => { signal.removeEventListener('abort', giveUp); resolve(); } };
        const giveUp = () => { queue.splice(queue.indexOf(waiting), 1); reject(signal.reason); };
        queue.push(waiting);
        signal.addEventListener('abort', giveUp, { once: true });
      });
    }
    try { return await work(); } finally { leave(); }
  };
}
