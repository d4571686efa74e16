/** Six roles. An auditor reads and changes nothing; the administrator sets up the plant and its people. */
export const roles = ['operator', 'technician', 'engineer', 'manager', 'auditor', 'administrator'] as const;
export type Role = (typeof roles)[number];

/** What a token of a gauge or a monitor may do; an endpoint that names none of these takes no token. */
export const feedScopes = ['checks', 'counts', 'line-events'] as const;
export type FeedScope = (typeof feedScopes)[number];

/** Who may do what, by kind of act; every endpoint names one of these. */
export const readers: readonly Role[] = roles;
export const recorders: readonly Role[] = ['operator', 'technician', 'engineer', 'administrator'];
export const correctors: readonly Role[] = ['technician', 'engineer', 'administrator'];
export const investigators: readonly Role[] = ['technician', 'engineer', 'manager', 'administrator'];
export const closers: readonly Role[] = ['engineer', 'manager', 'administrator'];
export const engineers: readonly Role[] = ['engineer', 'administrator'];
export const administrators: readonly Role[] = ['administrator'];
