/** What a ranking is of. */
export type TraceSubject = { kind: 'incident' | 'signal'; id: number };

/** How a place of the subject is called in an address: "incidentId" or "signalId". */
export const subjectParam = ({ kind, id }: TraceSubject): Record<string, string> => ({ [`${kind}Id`]: String(id) });
export const subjectPath = ({ kind, id }: TraceSubject): string => `/${kind}s/${id}`;
