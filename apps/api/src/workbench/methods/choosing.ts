import type { Method } from '../method.js';

export const choosingMethods: readonly Method[] = [];
