/** A reason not to start (or not to go on) that a person can act on: printed as one line, exit code 1. */
export class StartError extends Error {
  override readonly name = 'StartError';
}
