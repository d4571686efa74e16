import { stemmer } from '@orama/stemmers/german';
import { isStopWord, type Word } from './words.js';

// Function words that English notes do not have: they tell a German text. From memory, folded like every word of the index.
const FUNCTION_WORDS = new Set(`aber alle allem allen aller alles als auch auf aus bei beim bis da damit danach dann das dass dem den der des durch ein eine einem einen einer eines erst es fur gegen haben ist jede jedem jeden jeder jedes kann kein keine keinen konnte mehr mit muss nach nicht noch nur ob oder ohne schon sehr seit sich sie sind uber und unter vom von vor weil wenn werden wieder wird wurde wurden zu zum zur zwischen`.split(' '));
// Function words that English notes have, too ("die", "also", "um" for micrometres): without meaning only in a German text or question.
const SHARED = new Set('also am an die hat im in man so um war was wo'.split(' '));
const UMLAUTS = /[äöüß]/i;
const MOST_STEMS = 50_000;
const stems = new Map<string, string>();

/** The term under which the German stem of a word stands in the index; it begins as no typed word can. Stem: Snowball's German algorithm (snowballstem.org). */
export function germanToken(folded: string): string {
  const known = stems.get(folded);
  if (known !== undefined) return known;
  const token = `¶${stemmer(folded)}`;
  if (stems.size >= MOST_STEMS) stems.clear();
  stems.set(folded, token);
  return token;
}

const isMark = ({ raw, folded }: Word): boolean => FUNCTION_WORDS.has(folded) || UMLAUTS.test(raw);

/** Whether a text is German: more of its words say so than say that it is English. Notes do not name their language. */
export function isGerman(words: readonly Word[]): boolean {
  const german = words.filter(isMark).length;
  return german > 0 && german > words.filter((word) => !isMark(word) && !SHARED.has(word.folded) && isStopWord(word)).length;
}

/** Whether a word of a text that means something gets a German stem: each in a German text, and one with an umlaut or ß in any text. */
export const isStemmedGerman = (word: Word, inGerman: boolean): boolean => inGerman || UMLAUTS.test(word.raw);

/** Words that carry no meaning in a German text or question; an abbreviation in capitals is not one of them. */
export const isGermanStopWord = ({ raw, folded }: Word): boolean => (FUNCTION_WORDS.has(folded) || SHARED.has(folded)) && raw !== raw.toUpperCase();
