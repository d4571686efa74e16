import { useMemo } from 'react';
import type { ChartOptions } from './control-chart.figure.js';

/** Options that are the same object until the selection changes. */
export const useSelectedOptions = (selected: number | null): ChartOptions => useMemo(() => ({ selected }), [selected]);
