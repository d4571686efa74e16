const BROWSERS: readonly (readonly [RegExp, string])[] = [[/\bEdg\//, 'Edge'], [/\bFirefox\//, 'Firefox'], [/\b(?:Headless)?Chrom(?:e|ium)\//, 'Chrome'], [/\bSafari\//, 'Safari']];
const SYSTEMS: readonly (readonly [RegExp, string])[] = [[/\b(?:iPad|iPhone)\b/, 'iOS'], [/\bAndroid\b/, 'Android'], [/\bWindows\b/, 'Windows'], [/\bMac OS X\b/, 'macOS'], [/\bLinux\b/, 'Linux']];

/** Browser and system in a word each, for people to recognise their own; null where the text names none that is known. */
export function browserOf(agent: string): { browser: string | null; system: string | null } {
  const first = (list: typeof BROWSERS) => list.find(([pattern]) => pattern.test(agent))?.[1] ?? null;
  return { browser: first(BROWSERS), system: first(SYSTEMS) };
}
