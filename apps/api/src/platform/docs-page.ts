import { problems } from '#contract/problem';
import type { OpenApiDocument } from './open-api.js';

type Scheme = { type: string; name?: string; description: string };
type Operation = { security: Record<string, unknown>[]; operationId: string; tags: string[]; summary: string; description: string; parameters: { name: string; in: string; required: boolean; schema: object }[]; requestBody?: { content: Record<string, { schema: object }> }; responses: Record<string, { description: string; content: Record<string, { schema: object }> }> };

const plain = (text: string) => text.replace(/[&<>"]/g, (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign] ?? sign);
const json = (value: object) => `<pre>${plain(JSON.stringify(value, null, 1))}</pre>`;

const whoAsks = ({ name, description }: Scheme) => (name ? `<strong>A person</strong>, by the cookie <code>${plain(name)}</code>. ${plain(description)}` : `<strong>A token</strong>, in the header <code>Authorization: Bearer …</code>. ${plain(description)}`);
/** Codes of machine, product and characteristic are those of the set-up. */
const EXAMPLE = `curl -sS http://127.0.0.1:4310/api/checks -H "Authorization: Bearer $SEAMLEDGER_TOKEN" -H 'Content-Type: application/json' -d '{
  "key": "one of your own, at least 8 characters", "machine": "BM11", "product": "A65", "takenAt": "2026-02-03T08:30:00Z",
  "cans": [{ "number": 1 }, { "number": 2 }], "positions": ["front", "middle", "back"],
  "characteristics": [{ "code": "weld-overlap", "readings": [0.41, 0.42, 0.43, 0.40, 0.42, null] }] }'`;

/** The API document as one page that needs no script: contents, then each endpoint with its parameters, body, answers and problems. */
export function docsPage(document: OpenApiDocument): string {
  const operations = Object.entries(document.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ path, method: method.toUpperCase(), operation: operation as Operation })));
  const tags = document.tags.map((tag) => String(tag['name']));
  const contents = tags.map((tag) => `<h3>${plain(tag)}</h3><ul>${operations.filter(({ operation }) => operation.tags.includes(tag)).map(({ path, method, operation }) => `<li><a href="#${operation.operationId}"><code>${method} ${plain(path)}</code></a> ${plain(operation.summary)}</li>`).join('')}</ul>`).join('');
  const sections = operations.map(({ path, method, operation }) => `
<section id="${operation.operationId}"><h2><code>${method} ${plain(path)}</code></h2><p><strong>${plain(operation.summary)}.</strong> ${plain(operation.description).replaceAll('\n\n', '</p><p>')}</p>
${operation.parameters.length ? `<table><tr><th>parameter</th><th>in</th><th>required</th><th>shape</th></tr>${operation.parameters.map((parameter) => `<tr><td><code>${plain(parameter.name)}</code></td><td>${parameter.in}</td><td>${parameter.required ? 'yes' : 'no'}</td><td><code>${plain(JSON.stringify(parameter.schema))}</code></td></tr>`).join('')}</table>` : ''}
${operation.requestBody ? Object.entries(operation.requestBody.content).map(([type, { schema }]) => `<details><summary>Body: ${type}</summary>${json(schema)}</details>`).join('') : ''}
${Object.entries(operation.responses).map(([status, answer]) => Object.entries(answer.content).map(([type, { schema }]) => `<details><summary>${status}: ${plain(answer.description)} (${type})</summary>${json(schema)}</details>`).join('')).join('')}</section>`).join('');
  const problemRows = Object.entries(problems).map(([code, { status, title }]) => `<tr id="problem-${code}"><td><code>${code}</code></td><td>${status}</td><td>${plain(title)}</td></tr>`).join('');
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Seamledger API</title>
<style>body{font:16px/1.5 system-ui,sans-serif;max-width:62rem;margin:2rem auto;padding:0 1rem;color:#1c2733;background:#fff}code,pre{font-size:.9em}pre{overflow:auto;background:#f2f5f7;padding:.75rem;border-radius:6px}table{border-collapse:collapse}td,th{border:1px solid #c8d1d9;padding:.25rem .6rem;text-align:left;vertical-align:top}section{border-top:1px solid #c8d1d9;margin-top:1.5rem}summary{cursor:pointer;padding:.2rem 0}h2{font-size:1.15rem}</style></head>
<body><h1>Seamledger API ${plain(String(document.info['version']))}</h1><p>${plain(String(document.info['description']))}</p><p>The same as OpenAPI 3.1: <a href="/api/openapi.json">/api/openapi.json</a>. Refusals are problem details (RFC 9457) with a <a href="#problems">stable code</a>.</p>
<h2>Who asks</h2>${Object.values(document.components.securitySchemes).map((scheme) => `<p>${whoAsks(scheme as Scheme)}</p>`).join('')}
<p>A token is taken by: ${operations.filter(({ operation }) => operation.security.some((way) => 'token' in way)).map(({ path, method, operation }) => `<a href="#${operation.operationId}"><code>${method} ${plain(path)}</code></a>`).join(', ')}. For example, once a token is in the variable SEAMLEDGER_TOKEN:</p>
<pre>${plain(EXAMPLE)}</pre>
<nav aria-label="Contents">${contents}</nav>${sections}<section id="problems"><h2>Problem codes</h2><table><tr><th>code</th><th>status</th><th>title</th></tr>${problemRows}</table></section></body></html>`;
}
