export const specifications = {} as const;
