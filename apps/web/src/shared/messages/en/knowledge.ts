export const knowledge = {} as const;
