export const plant = {} as const;
