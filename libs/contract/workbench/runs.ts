import { z } from 'zod';
import { endpoint } from '../endpoint.js';
import { finite } from '../shapes.js';
import { runKey } from './method.js';

const params = z.object({ run: runKey });

export const getRun = endpoint({
  method: 'GET', path: '/api/workbench/runs/:run', feature: 'workbench', access: 'public',
  summary: 'How far a computation is',
  description: 'For a computation that was asked for with ?run=<UUID>. `share` is between 0 and 1; not every method reports it. A run that has ended is not found.',
  params, answer: z.object({ state: z.enum(['waiting', 'running']), share: finite, seconds: finite.describe('since it was asked for, s') }), problems: ['not-found'],
});

export const stopRun = endpoint({
  method: 'DELETE', path: '/api/workbench/runs/:run', feature: 'workbench', access: 'public',
  summary: 'Stop a computation',
  description: 'The request that waits for it is answered with the problem "stopped". Leaving that request has the same effect.',
  params, answer: z.undefined(), status: 204, problems: ['not-found'],
});
