export const signals = {} as const;
