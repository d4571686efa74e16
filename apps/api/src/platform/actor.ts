import type { Actor } from './audit.js';
import type { Session } from './endpoint.js';

/** The signed-in person as the audit trail names them. */
export const actorOf = (session: Session): Actor & { userId: number } => ({ plantId: session.plantId, userId: session.person.id, name: session.person.name });
