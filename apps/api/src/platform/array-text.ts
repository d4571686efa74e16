/**
 * PostgreSQL's text form of an array of numbers: the only way to send arrays of unequal length, and of NULLs, through one
 * parameter. Also the cheaper one for long columns: the client library looks at a text once, at each element of an array.
 */
export const arrayText = (values: readonly (number | null)[]): string => `{${JSON.stringify(values).slice(1, -1)}}`;

const SPECIAL = /["\\]/;
const quoted = (value: string): string => `"${SPECIAL.test(value) ? value.replace(/["\\]/g, '\\$&') : value}"`;

/** The same for texts; of array texts it is a column of arrays. */
export const textArray = (values: readonly (string | null)[]): string => `{${values.map((value) => (value === null ? 'NULL' : quoted(value))).join(',')}}`;
