import { z } from 'zod';
import { type Endpoint, mayUse } from '#contract/endpoint';
import { problemDetails, problems } from '#contract/problem';
import { roles as roleNames } from '#contract/roles';

type Json = Record<string, unknown>;
export type OpenApiDocument = { openapi: string; info: Json; servers: Json[]; tags: Json[]; paths: Record<string, Json>; components: { schemas: Json; securitySchemes: Json } };

/** The OpenAPI 3.1 document of the contract: its schemas are JSON Schema 2020-12, which is what zod writes. */
export function openApi(endpoints: readonly { name: string; endpoint: Endpoint }[], version: string): OpenApiDocument {
  const paths: Record<string, Json> = {};
  for (const { name, endpoint } of endpoints) {
    const path = endpoint.path.replace(/:([A-Za-z]+)/g, '{$1}');
    paths[path] = { ...paths[path], [endpoint.method.toLowerCase()]: operation(name, endpoint) };
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Seamledger', version,
      description: 'Checks, control charts, signals, leaker incidents, past fixes and capability of a welded food-can line. Times are ISO 8601 in UTC; every reading is in the unit of its characteristic. The tool informs; it never releases product.',
      license: { name: 'Proprietary', identifier: 'LicenseRef-Proprietary' },
    },
    servers: [{ url: '/', description: 'this installation' }],
    tags: [...new Set(endpoints.map(({ endpoint }) => endpoint.feature))].map((tag) => ({ name: tag })),
    paths,
    components: {
      schemas: { Problem: schemaOf(problemDetails, 'output') },
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'seamledger_session', description: 'Set by POST /api/session. Changes also need the header x-csrf-token from GET /api/session.' },
        token: { type: 'http', scheme: 'bearer', description: 'Of a gauge, a monitor or a program, made under Set-up, Feeds. It stands alone: no session and no x-csrf-token.' },
      },
    },
  };
}

function operation(name: string, endpoint: Endpoint): Json {
  const isPublic = endpoint.access === 'public';
  const roles = isPublic ? 'everybody, signed in or not' : endpoint.access === 'wall' ? 'a wall screen with its token' : roleNames.filter((role) => mayUse(endpoint, role)).join(', ');
  const codes = new Set<keyof typeof problems>(endpoint.problems ?? []);
  if (endpoint.body || endpoint.query || endpoint.params) codes.add('invalid-input');
  if (!isPublic) { codes.add('not-signed-in'); codes.add('not-allowed'); }
  if (endpoint.feed) { codes.add('token-refused'); codes.add('too-many-requests'); }
  const byStatus = new Map<number, string[]>();
  for (const code of codes) byStatus.set(problems[code].status, [...(byStatus.get(problems[code].status) ?? []), code]);
  return {
    operationId: name, tags: [endpoint.feature], summary: endpoint.summary,
    description: [endpoint.description, `Roles: ${roles}.`, endpoint.feed ? `Or a token that may send ${endpoint.feed}: Authorization: Bearer ….` : undefined].filter(Boolean).join('\n\n'),
    ...(isPublic ? { security: [] } : { security: [{ session: [] }, ...(endpoint.feed ? [{ token: [] }] : [])] }),
    parameters: [...parameters(endpoint.params, 'path'), ...parameters(endpoint.query, 'query')],
    ...(endpoint.body ? { requestBody: { required: true, content: { [endpoint.bodyType === 'multipart' ? 'multipart/form-data' : 'application/json']: { schema: schemaOf(endpoint.body, 'input') } } } } : {}),
    responses: {
      [String(endpoint.status ?? 200)]: { description: 'as asked', content: { [endpoint.answerType ?? 'application/json']: { schema: endpoint.answerType ? { type: 'string' } : schemaOf(endpoint.answer, 'output') } } },
      ...Object.fromEntries([...byStatus].map(([status, list]) => [String(status), { description: list.join(', '), content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } } }])),
    },
  };
}

function parameters(shape: z.ZodType | undefined, place: 'path' | 'query'): Json[] {
  if (!shape) return [];
  const schema = schemaOf(shape, 'input') as { properties?: Record<string, Json>; required?: string[] };
  return Object.entries(schema.properties ?? {}).map(([name, property]) => ({ name, in: place, required: place === 'path' || (schema.required ?? []).includes(name), schema: property }));
}

function schemaOf(shape: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema: _dialect, id: _id, $id: _uri, ...schema } = z.toJSONSchema(shape, { target: 'draft-2020-12', io, unrepresentable: 'any', reused: 'inline' }) as Json;
  return inlineDefinitions(schema);
}

/** zod puts shapes that carry an id under $defs of each schema; a document reader finds them easier in place. */
function inlineDefinitions(schema: Json): Json {
  const definitions = (schema['$defs'] ?? {}) as Record<string, Json>;
  const walk = (node: unknown): unknown => {
    if (Array.isArray(node)) return node.map(walk);
    if (typeof node !== 'object' || node === null) return node;
    const reference = (node as Json)['$ref'];
    if (typeof reference === 'string' && reference.startsWith('#/$defs/')) return walk(definitions[reference.slice('#/$defs/'.length)]);
    return Object.fromEntries(Object.entries(node).filter(([key, value]) => key !== '$defs' && !saysNothing(node as Json, key, value)).map(([key, value]) => [key, walk(value)]));
  };
  return walk(schema) as Json;
}

/** The pattern of a format that is named already, and bounds that are those of every whole number in JavaScript. */
function saysNothing(node: Json, key: string, value: unknown): boolean {
  return (key === 'pattern' && node['format'] === 'date-time') || (node['type'] === 'integer' && (key === 'minimum' || key === 'maximum') && Math.abs(Number(value)) === Number.MAX_SAFE_INTEGER);
}
