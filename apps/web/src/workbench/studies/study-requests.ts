export type StudyRequest = { method: string; body: Record<string, unknown> };

/** The computations of a study, by method: those that are asked about what is on the screen. */
export function studyRequests(bodies: Readonly<Record<string, object | null>>): StudyRequest[] {
  return Object.entries(bodies).flatMap(([method, body]) => (body === null ? [] : [{ method: method, body: { ...body } }]));
}

/** The server takes 4 MB of JSON; a little is left for title and note. */
export const MOST_BYTES = 3_900_000;

