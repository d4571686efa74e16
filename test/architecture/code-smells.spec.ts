import ts from 'typescript';
import { expect, it } from 'vitest';
import { root, type SourceFile, sourceFiles } from './source-files.js';

const ours = sourceFiles(['apps', 'libs', 'seed', 'test'], /\.(?:m?ts|tsx|mjs|cjs)$/).filter(({ file }) => !file.startsWith('test/architecture/'));
const MOST_LINES = 300;
const SILENCED = /@ts-(?:ignore|nocheck|expect-error)\b/g;
/** Straight behind its name, or behind a table of cases. */
const LEFT_OUT = /\b(?:it|test|describe|suite)(?:\.\w+)*\.(?:only|skip|todo|fails)\b/g;
const TABLE_LEFT_OUT = /\b(?:it|test|describe|suite)\.\w+\([^)]*\)\.(?:only|skip|todo|fails)\b/g;
const LEFT_TO_DO = /\b(?:TODO|FIXME|XXX|HACK)\b/g;
const SQL_OF_TEXT = /\$(?:queryRawUnsafe|executeRawUnsafe)\b|\bPrisma\.raw\b/g;

const where = ({ file, text }: SourceFile, index: number) => `${file}:${text.slice(0, index).split('\n').length}`;
const matches = (files: readonly SourceFile[], pattern: RegExp) => files.flatMap((file) => [...file.text.matchAll(pattern)].map((match) => `${where(file, match.index)} ${match[0].trim()}`));

/** The type `any`, wherever it is written; the word in a comment or a string is none. */
function anyTypes(file: SourceFile): string[] {
  const source = ts.createSourceFile(file.file, file.text, ts.ScriptTarget.ESNext, true, file.file.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (node.kind === ts.SyntaxKind.AnyKeyword) found.push(where(file, node.getStart()));
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

it('no type is any', () => {
  expect(ours.length, root).toBeGreaterThan(100);
  expect(ours.filter(({ file }) => /\.(ts|tsx)$/.test(file)).flatMap(anyTypes)).toEqual([]);
});

it('the compiler is not silenced', () => {
  expect(matches(ours, SILENCED)).toEqual([]);
});

it('no test is alone, left out or still to be written', () => {
  expect(matches(ours, LEFT_OUT)).toEqual([]);
  expect(matches(ours, TABLE_LEFT_OUT)).toEqual([]);
});

it('nothing is left to do in a comment', () => {
  expect(matches(ours, LEFT_TO_DO)).toEqual([]);
});

it(`no file of apps and libs is longer than ${MOST_LINES} lines`, () => {
  const long = ours.filter(({ file }) => /^(apps|libs)\//.test(file)).map(({ file, text }) => ({ file, lines: text.trimEnd().split('\n').length })).filter(({ lines }) => lines > MOST_LINES);
  expect(long).toEqual([]);
});

it('SQL is never built from text: every value is a parameter', () => {
  const server = ours.filter(({ file }) => file.startsWith('apps/'));
  expect(matches(server, SQL_OF_TEXT)).toEqual([]);
});

it('files are named in kebab-case, with their role as suffix', () => {
  expect(ours.map(({ file }) => file).filter((file) => !/^[a-z0-9-]+(\.[a-z0-9-]+)*\.(?:m?ts|tsx|mjs|cjs)$/.test(file.split('/').at(-1) ?? ''))).toEqual([]);
});

it('sees the smells it looks for', () => {
  const planted = { file: 'apps/x.ts', text: "let a: any = b as any; // any\nconst s = 'any';\n// @ts-ignore\nit.only('x');\ndescribe.each([1]).skip('y');\n// FIXME\nawait tx.$executeRawUnsafe('z');\n" };
  expect(anyTypes(planted)).toEqual(['apps/x.ts:1', 'apps/x.ts:1']);
  expect(matches([planted], SILENCED)).toEqual(['apps/x.ts:3 @ts-ignore']);
  expect(matches([planted], LEFT_OUT)).toEqual(['apps/x.ts:4 it.only']);
  expect(matches([planted], TABLE_LEFT_OUT)).toEqual(['apps/x.ts:5 describe.each([1]).skip']);
  expect(matches([planted], LEFT_TO_DO)).toEqual(['apps/x.ts:6 FIXME']);
  expect(matches([planted], SQL_OF_TEXT)).toEqual(['apps/x.ts:7 $executeRawUnsafe']);
});
