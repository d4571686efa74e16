import { expect, it } from 'vitest';
import { routeLabel } from './metrics.js';

it('labels a route by its pattern, and all files of the web client alike', () => {
  expect(['/api/signals/:id', '/metrics', '/', '/assets/states-LR1lJRDU.js', '/*', undefined].map(routeLabel)).toEqual(['/api/signals/:id', '/metrics', 'web client', 'web client', 'web client', 'none']);
});
