import { type ArgumentsHost, Catch, type ExceptionFilter, HttpException } from '@nestjs/common';
import { Problem, type ProblemCode, problemBody, problems } from '#contract/problem';
import type { Reply, Request } from './endpoint.js';

/** The only place that turns errors into HTTP: RFC 9457 bodies with a stable code, and never a stack trace. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    const [request, reply] = [http.getRequest<Request>(), http.getResponse<Reply>()];
    const problem = asProblem(error);
    if (problem.code === 'internal') request.log.error({ err: error, url: request.url }, 'unexpected error');
    void reply.status(problems[problem.code].status).type('application/problem+json').send(problemBody(problem, request.url.split('?')[0]));
  }
}

/** What an error means to the person who asked. */
export function asProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  const text = databaseText(error);
  if (/53100|No space left on device/.test(text)) return new Problem('disk-full', 'Nothing that was acknowledged is lost. Free some space and try again.');
  if (/57P0[123]|ECONNREFUSED|ECONNRESET|P1001|P2024|P2028|Connection terminated|Server has closed|08006|08003/.test(text)) return new Problem('database-unavailable', 'Try again in a moment; nothing was stored by this request.');
  const status = error instanceof HttpException ? error.getStatus() : Number((error as { statusCode?: unknown })?.statusCode);
  const byStatus: Record<number, ProblemCode> = { 400: 'invalid-input', 404: 'not-found', 413: 'too-large', 415: 'wrong-file-type', 429: 'too-many-attempts' };
  const code = byStatus[status];
  if (code) return new Problem(code, error instanceof Error && code !== 'not-found' ? error.message : undefined);
  return new Problem('internal', 'It was written to the log. Nothing was stored by this request.');
}

/** Codes and words of a driver error, also where the adapter wraps it. */
function databaseText(error: unknown): string {
  if (typeof error !== 'object' || error === null) return '';
  const { code, message, meta, cause } = error as { code?: unknown; message?: unknown; meta?: unknown; cause?: unknown };
  return [code, code === undefined && meta === undefined && cause === undefined ? '' : message, JSON.stringify(meta ?? null), cause ? databaseText(cause) + JSON.stringify(cause) : ''].join(' ');
}
