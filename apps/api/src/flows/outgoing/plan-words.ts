/** A check in one line; a plan that is called after its machine does not name it twice. */
export const checkAt = (plan: string, machine: string): string => (plan.includes(machine) ? plan : `${plan} on ${machine}`);

/** What opened a check, as people say it. */
export const openerWord = (kind: string | undefined): string => (kind === undefined ? 'a line event' : kind === 'setting' ? 'adjustment' : kind.replaceAll('-', ' '));
