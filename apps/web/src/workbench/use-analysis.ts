import { useMemo } from 'react';
import { chart } from '#contract/workbench/charts';
import { call } from '../shared/http.js';
import type { Choices } from './choices.js';
import { chartRequest, kindOf, kindsFor } from './compute/chart-request.js';
import { varianceRequest } from './compute/variance-request.js';
import { useMethod } from './compute/use-method.js';
import { useSteady } from './compute/use-steady.js';
import { formData, type FormAnswer, type FormedData } from './form/form-data.js';
import type { DataTable } from './read/read-table.js';

/** The readings as formed. Made anew only when the table or a choice that forms them changes: a million readings are not formed with each letter of a unit. */
export function useFormed(table: DataTable, choices: Choices): FormAnswer {
  const { form, column, columns, size, naming, textsAsMissing, counted, sizes, sampleSize, sizesColumn, event, product, nominal } = choices;
  return useMemo(
    () => formData(table, { form, column, columns, size, naming, textsAsMissing, counted, sizes, sampleSize, sizesColumn, event, product, nominal }),
    [table, form, column, columns, size, naming, textsAsMissing, counted, sizes, sampleSize, sizesColumn, event, product, nominal],
  );
}

/** The chart of formed readings: kind, what is unfinished, and the computation. Without readings nothing is asked. */
export function useChartOf(data: FormedData | null, choices: Choices) {
  const { counted, event } = choices;
  const kinds = useMemo(() => (data ? kindsFor(data, { counted, event }) : []), [data, counted, event]);
  const kind = data ? kindOf(data, choices) : null;
  const request = useMemo(() => (data && kind ? chartRequest(data, choices, kind) : null), [data, choices, kind]);
  const body = useSteady(request && 'body' in request ? request.body : null);
  const computation = useMethod(chart.path, body, (given) => call(chart, given));
  return { kinds, kind, faults: request && 'faults' in request ? request.faults : [], body, computation };
}

/** How the variation of subgroups parts into between and within. */
export function useVariance(data: FormedData | null) {
  const body = useSteady(useMemo(() => varianceRequest(data), [data]));
  const computation = useMethod(chart.path, body, (given) => call(chart, given));
  return { body, computation };
}
