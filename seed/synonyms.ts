/** Words that the people of the invented plant use beside those of the trade. All are invented. */
export const seedSynonyms: readonly { preferred: string; others: readonly string[]; author: string }[] = [
  { preferred: 'jam', others: ['pile-up', 'smash'], author: 'quinta' },
  { preferred: 'juncture', others: ['the knot'], author: 'marrow' },
];
