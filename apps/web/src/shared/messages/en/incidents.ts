export const incidents = {} as const;
