import type { PackInputs } from './pack-content.js';

export const readingsIn = ({ subjects }: Pick<PackInputs, 'subjects'>): number => subjects.reduce((sum, { streams }) => sum + streams.reduce((part, { subgroups }) => part + subgroups.reduce((n, group) => n + group[4].filter((reading) => reading !== null).length, 0), 0), 0);

/** Product, machine, characteristic, head and half of each stream, as the plant names them. */
export const streamNames = ({ subjects }: Pick<PackInputs, 'subjects'>): Map<number, string> => new Map(subjects.flatMap(({ product, machine, characteristic, streams }) =>
  streams.map(({ id, unit, lane }) => [id, [product.code, machine.code, characteristic.name, unit?.code, lane?.code].filter(Boolean).join(' ')])));
