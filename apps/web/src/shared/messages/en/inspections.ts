export const inspections = {} as const;
