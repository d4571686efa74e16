import ts from 'typescript';
import { expect, it } from 'vitest';
import { sourceFiles } from './source-files.js';

/** Attributes that a person sees or hears. */
const SPOKEN = new Set(['label', 'title', 'placeholder', 'alt', 'description', 'error', 'aria-label', 'aria-description', 'aria-placeholder', 'aria-roledescription', 'aria-valuetext', 'legend', 'what', 'text', 'word', 'nothingFoundMessage']);
const hasLetter = (text: string) => /\p{L}/u.test(text);

/** Visible words in JSX that do not come from the message catalogue: text between tags, and strings in children and in spoken attributes. */
function literalTexts(file: string, text: string): string[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.ESNext, true, ts.ScriptKind.TSX);
  const found: string[] = [];
  const report = (node: ts.Node, words: string) => found.push(`${file}:${source.getLineAndCharacterOfPosition(node.getStart()).line + 1} "${words.trim()}"`);
  /** Strings that the expression can come out as; what is handed to a function, such as a message key, is not one. */
  const strings = (node: ts.Expression): ts.Node[] => {
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return [node];
    if (ts.isTemplateExpression(node)) return [node.head, ...node.templateSpans.map((span) => span.literal)];
    if (ts.isParenthesizedExpression(node) || ts.isAsExpression(node)) return strings(node.expression);
    if (ts.isConditionalExpression(node)) return [...strings(node.whenTrue), ...strings(node.whenFalse)];
    if (ts.isBinaryExpression(node)) return [...strings(node.left), ...strings(node.right)].filter(() => /^(\+|\?\?|\|\||&&)$/.test(node.operatorToken.getText()));
    return [];
  };
  const reportStrings = (expression: ts.Expression | undefined) => {
    for (const node of expression ? strings(expression) : []) {
      const words = (node as ts.LiteralLikeNode).text;
      if (hasLetter(words)) report(node, words);
    }
  };
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node) && hasLetter(node.text)) report(node, node.text);
    if (ts.isJsxExpression(node) && !ts.isJsxAttribute(node.parent)) reportStrings(node.expression);
    if (ts.isJsxAttribute(node) && SPOKEN.has(node.name.getText())) {
      const value = node.initializer;
      if (value && ts.isStringLiteral(value) && hasLetter(value.text)) report(value, value.text);
      if (value && ts.isJsxExpression(value)) reportStrings(value.expression);
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

it('every visible word of the screens comes from the message catalogue', () => {
  const files = sourceFiles(['apps/web/src'], /(?<!\.spec)\.tsx$/);
  expect(files.length).toBeGreaterThan(15);
  expect(files.flatMap(({ file, text }) => literalTexts(file, text))).toEqual([]);
});

it('sees words between tags, in children and in spoken attributes, and lets keys and marks pass', () => {
  const found = (jsx: string) => literalTexts('x.tsx', `const x = ${jsx};`).length;
  // biome-ignore lint/suspicious/noTemplateCurlyInString: these strings are source text
  for (const jsx of ['<p>Save</p>', "<p>{'Save'}</p>", "<p>{busy ? 'Saving' : null}</p>", '<p>{`${n} cans`}</p>', "<p>{name ?? 'none'}</p>", '<input placeholder="Name" />', "<input aria-label={on ? 'on' : 'off'} />", '<Page title={`Check ${id}`} />']) expect(found(jsx), jsx).toBeGreaterThan(0);
  // biome-ignore lint/suspicious/noTemplateCurlyInString: these strings are source text
  for (const jsx of ["<p>{t('save')}</p>", '<p>·</p>', "<p>{a ? t('a') : '–'}</p>", '<input name="login" type="text" />', '<img alt="" />', '<p className="quiet">{`${a} / ${b}`}</p>', "<Page title={t('x', { y: 'z' })} />", "<p>{a === 'open' ? t('a') : null}</p>"]) expect(found(jsx), jsx).toBe(0);
});
