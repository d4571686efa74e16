export const studies = {} as const;
