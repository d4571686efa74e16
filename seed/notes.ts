import type { SeedNote } from './note-types.js';
import { flangeAndHandlingNotes } from './notes-flange-and-handling.js';
import { seamNotes } from './notes-seam.js';
import { weldNotes } from './notes-weld.js';

/** Thirty root-cause notes, oldest first. Their titles are unique: incidents cite them by title. */
export const seedNotes: readonly SeedNote[] = [...weldNotes, ...seamNotes, ...flangeAndHandlingNotes].sort((a, b) => b.daysAgo - a.daysAgo);
