import { useMemo } from 'react';
import { chart } from '#contract/workbench/charts';
import { chartToUse, memoryOfReadings, partOfVariation } from '#contract/workbench/choosing';
import { call } from '../shared/http.js';
import type { Choices } from './choices.js';
import { chartRequest, kindOf, kindsFor } from './compute/chart-request.js';
import { memoryRequest, recommendRequest, varianceRequest } from './compute/variance-request.js';
import { useMethod } from './compute/use-method.js';
import { useSteady } from './compute/use-steady.js';
import { formData, type FormAnswer, type FormedData } from './form/form-data.js';
import { nestingOf } from './form/nesting.js';
import type { DataTable } from './read/read-table.js';
import type { ChartAnswer } from './results/workbench-chart.figure.js';

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

/** What the readings are like beside their chart: where variation comes from, which chart suits, whether points remember the ones before. */
export function useNature(table: DataTable, data: FormedData | null, choices: Choices, answer: ChartAnswer | undefined, subgroupName: string) {
  const { form, column, naming, levels, members, confidence } = choices;
  const nesting = useMemo(() => (data ? nestingOf(table, { form, column, naming, levels }, data, subgroupName) : null), [table, data, form, column, naming, levels, subgroupName]);
  const partsBody = useSteady(useMemo(() => varianceRequest(nesting, data, confidence), [nesting, data, confidence]));
  const chartBody = useSteady(useMemo(() => recommendRequest(data, members), [data, members]));
  const memoryBody = useSteady(useMemo(() => memoryRequest(answer), [answer]));
  const parts = useMethod(partOfVariation.path, partsBody, (given) => call(partOfVariation, given));
  const recommended = useMethod(chartToUse.path, chartBody, (given) => call(chartToUse, given));
  const memory = useMethod(memoryOfReadings.path, memoryBody, (given) => call(memoryOfReadings, given));
  return {
    parts, recommended, memory,
    bodies: { 'variance-components': partsBody, 'recommend-chart': chartBody, autocorrelation: memoryBody },
    answers: { 'variance-components': parts.query.data, 'recommend-chart': recommended.query.data, autocorrelation: memory.query.data },
  };
}
export type Nature = ReturnType<typeof useNature>;
