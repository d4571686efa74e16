export const production = {} as const;
