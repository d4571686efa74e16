import type { Method } from '../method.js';

export const chartsMethods: readonly Method[] = [];
