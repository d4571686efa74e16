import { useMemo } from 'react';
import { chart } from '#contract/workbench/charts';
import { call } from '../shared/http.js';
import type { Choices } from './choices.js';
import { chartRequest, kindOf, kindsFor } from './compute/chart-request.js';
import { useMethod } from './compute/use-method.js';
import { useSteady } from './compute/use-steady.js';
import { formData, type FormAnswer, type FormedData } from './form/form-data.js';
import type { DataTable } from './read/read-table.js';

/** The readings as formed. Made anew only when the table or a choice that forms them changes: a million readings are not formed with each letter of a unit. */
export function useFormed(table: DataTable, choices: Choices): FormAnswer {
  const { form, column, columns, size, naming, textsAsMissing, counted, sizes, sampleSize, sizesColumn, event } = choices;
  return useMemo(
    () => formData(table, { form, column, columns, size, naming, textsAsMissing, counted, sizes, sampleSize, sizesColumn, event }),
    [table, form, column, columns, size, naming, textsAsMissing, counted, sizes, sampleSize, sizesColumn, event],
  );
}

/** The chart of formed readings: kind, what is unfinished, and the computation. */
export function useChartOf(data: FormedData, choices: Choices, recommended: ReturnType<typeof kindOf> | null) {
  const kinds = useMemo(() => kindsFor(data, choices), [data, choices]);
  const kind = kindOf(data, choices, recommended);
  const request = useMemo(() => chartRequest(data, choices, kind), [data, choices, kind]);
  const body = useSteady('body' in request ? request.body : null);
  const computation = useMethod(chart.path, body, (given) => call(chart, given));
  return { kinds, kind, faults: 'faults' in request ? request.faults : [], body, computation };
}
