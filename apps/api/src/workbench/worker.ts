import type { MessagePort } from 'node:worker_threads';
import { z } from 'zod';
import { MOST_VALUES } from '#contract/workbench/method';
import { type FieldError, type ProblemCode } from '#contract/problem';
import { fieldErrors } from '../platform/field-errors.js';
import { allMethods } from './all-methods.js';
import { countNumbers } from './count-numbers.js';

/** What the worker thread is given: the address of the method and the bytes of the request. */
export type Task = { path: string; body: Uint8Array; port: MessagePort };
/** JSON text of the answer, or what was wrong. A thrown error would lose its fields on the way out of the thread. */
export type Outcome = { answer: string } | { problem: { code: ProblemCode; detail?: string; errors?: FieldError[] } };

const methods = new Map(allMethods.map((method) => [method.endpoint.path, method]));
const REPORT_EVERY_MS = 100;
/** Refusals of libs/statistics open with the name of the function; other range errors are our own mistakes. */
const REFUSAL = /^[A-Za-z0-9]+( \([a-z0-9-]+\))?: /;

/** Runs in a worker thread: reads the body, computes, writes the answer. */
export default function compute({ path, body, port }: Task): Outcome {
  const method = methods.get(path);
  if (!method) return { problem: { code: 'not-found' } };
  port.postMessage(0);
  let reported = performance.now();
  const progress = (share: number): void => {
    if (performance.now() - reported < REPORT_EVERY_MS) return;
    reported = performance.now();
    port.postMessage(share);
  };
  try {
    const input: unknown = JSON.parse(Buffer.from(body).toString('utf8'));
    const numbers = countNumbers(input);
    if (numbers > MOST_VALUES) return { problem: { code: 'too-large', detail: `At most ${MOST_VALUES} numbers are expected in one request, ${numbers} given.`, errors: [{ field: 'body', expected: `at most ${MOST_VALUES} numbers` }] } };
    return { answer: JSON.stringify(method.compute(input, progress)) };
  } catch (error) {
    if (error instanceof SyntaxError) return { problem: { code: 'invalid-input', detail: 'The body is not JSON.', errors: [{ field: 'body', expected: 'a JSON object' }] } };
    if (error instanceof z.ZodError) return { problem: { code: 'invalid-input', errors: fieldErrors(error) } };
    if (error instanceof RangeError && REFUSAL.test(error.message)) return { problem: { code: 'cannot-compute', detail: error.message } };
    throw error;
  } finally {
    port.close();
  }
}
