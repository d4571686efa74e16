import type { Role } from '#contract/roles';
import type { Actor } from './audit.js';
import type { Request, Session } from './endpoint.js';

/** A person who is asked for the password anew: with the login, and the address that a wrong one counts for. */
export type Signer = Actor & { userId: number; login: string; role: Role; from: string };

/** The signed-in person as the audit trail names them. */
export const actorOf = (session: Session): Actor & { userId: number } => ({ plantId: session.plantId, userId: session.person.id, name: session.person.name });

export const signerOf = (session: Session, request: Request): Signer => ({ ...actorOf(session), login: session.person.login, role: session.person.role, from: request.ip });
