import { now } from './now.js';
import { setUp } from './set-up.js';

export const plant = { now, setUp } as const;
