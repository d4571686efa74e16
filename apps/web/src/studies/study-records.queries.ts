import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { getStudyRecord, keepBeforeAfterStudy, keepCapabilityStudy, listStudyRecords, setStudyAside, stepStudyRecord } from '#contract/capability-studies';
import type { RequestOf } from '#contract/endpoint';
import { recordCalibration } from '#contract/gauge-calibrations';
import { changeStudyThresholds, enterTrial, finishGaugeStudy, getBlindSheet, getStudyThresholds, planGaugeStudy } from '#contract/gauge-studies';
import { listLineEvents } from '#contract/production';
import { listStreams } from '#contract/specifications';
import { call } from '../shared/http.js';

type Body<E> = RequestOf<E> extends { body: infer Given } ? Given : never;
export type GaugePlanBody = Body<typeof planGaugeStudy>;

export const useStreams = () => useQuery({ queryKey: ['streams'], queryFn: ({ signal }) => call(listStreams, { query: {}, signal }), staleTime: 60_000 });
/** What was entered for a line; the newest thousand. */
export const useLineEvents = (line: number) => useQuery({ queryKey: ['line-events', line], queryFn: ({ signal }) => call(listLineEvents, { query: { line }, signal }), staleTime: 60_000 });
export const useStudyRecords = (query: RequestOf<typeof listStudyRecords>['query']) => useQuery({ queryKey: ['study-records', 'list', query], queryFn: ({ signal }) => call(listStudyRecords, { query, signal }) });
export const useStudyRecord = (recordId: number) => useQuery({ queryKey: ['study-records', recordId], queryFn: ({ signal }) => call(getStudyRecord, { params: { recordId }, signal }) });
export const useBlindSheet = (recordId: number, person: number | undefined) => useQuery({ queryKey: ['study-records', recordId, 'sheet', person ?? null], queryFn: ({ signal }) => call(getBlindSheet, { params: { recordId }, query: { person }, signal }) });
export const useThresholds = () => useQuery({ queryKey: ['study-records', 'thresholds'], queryFn: ({ signal }) => call(getStudyThresholds, { signal }) });

/** Whatever changes a study may change the list, a gauge's standing and what stands beside capability. */
function useChange<Given, Answer>(act: (given: Given) => Promise<Answer>) {
  const client = useQueryClient();
  return useMutation({ mutationFn: act, onSuccess: () => Promise.all(['study-records', 'records', 'capability', 'plant'].map((key) => client.invalidateQueries({ queryKey: [key] }))) });
}
export const useKeepCapability = () => useChange((body: Body<typeof keepCapabilityStudy>) => call(keepCapabilityStudy, { body }));
export const useKeepBeforeAfter = () => useChange((body: Body<typeof keepBeforeAfterStudy>) => call(keepBeforeAfterStudy, { body }));
export const usePlanGauge = () => useChange((body: GaugePlanBody) => call(planGaugeStudy, { body }));
export const useEnterTrial = (recordId: number) => useChange((body: Body<typeof enterTrial>) => call(enterTrial, { params: { recordId }, body }));
export const useFinishGauge = (recordId: number) => useChange((_: undefined) => call(finishGaugeStudy, { params: { recordId }, body: {} }));
export const useStep = (recordId: number) => useChange((body: Body<typeof stepStudyRecord>) => call(stepStudyRecord, { params: { recordId }, body }));
export const useSetAside = (recordId: number) => useChange((body: Body<typeof setStudyAside>) => call(setStudyAside, { params: { recordId }, body }));
export const useRecordCalibration = (id: number) => useChange((body: Body<typeof recordCalibration>) => call(recordCalibration, { params: { id }, body }));
export const useChangeThresholds = () => useChange((body: Body<typeof changeStudyThresholds>) => call(changeStudyThresholds, { body }));
