export const ingest = {} as const;
