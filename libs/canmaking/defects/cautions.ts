const deferral = 'Whether cans already made are held, sorted, released or scrapped is decided by the plant’s process authority under local law and the customer’s specification; this tool only informs.';

// Common practice, no source. What the finding may mean for cans that are made already, never what is allowed to be done.
const meaning: Readonly<Record<string, string>> = {
  cutover: 'Split metal in the seam may let the can leak, also later in handling and cooling. The same head may have made it since its last clean check.',
  'sharp-seam': 'No split is seen yet, but it can become a cutover on the same head, or already be one on other cans of it.',
  droop: 'Under a droop the hooks may engage little or not at all; points measured away from it say nothing about it.',
  vee: 'The hooks are not engaged at the tongue: the can may leak there although the rest of the seam is in specification.',
  'false-seam': 'The can is not sealed over that stretch and may leak only under vacuum or pressure, so it can pass the tester.',
  'knocked-down-flange': 'The can is not sealed at the knock and may hold its vacuum for a while. Cans handled at the same place are in doubt.',
  'knocked-down-curl': 'The can is not sealed at that place. Cans from the same stack of ends, and those after the same jam, are in doubt.',
  deadhead: 'The seam is not finished and the can may leak. Cans of that head since its last clean check are in doubt.',
  skid: 'The seam is loose over an arc that three points can miss. Cans of that head since its last clean check are in doubt.',
  'broken-chuck-mark': 'Every can of that head since the chip broke off has the spot; the metal of the chip may also be in a can.',
  'cut-seam': 'The outer layer of the seam is open or weak; the can may leak or be contaminated in cooling.',
  'compound-squeeze-out': 'Compound that was forced out is missing in the seam, and the seam may be too tight; the seal is in doubt.',
  'jumped-seam': 'The seam is loose just behind the weld, where no routine point is taken; the can may leak there.',
  'loose-seam': 'A loose seam can leak under the pressure and vacuum of processing although it holds air when empty.',
  'low-tightness': 'A wrinkled hook leaves paths that may leak in cooling, when contaminated water can enter.',
  'short-body-hook': 'Overlap may be too small although it is in specification at the measured points; judge overlap and juncture of the same cans.',
  'long-body-hook': 'The hook may press against the end and the seam may be uneven; judge overlap and cover hook of the same cans.',
  'short-cover-hook': 'Overlap may be too small; a slow trend of all heads may have begun long before the first reading beyond a limit.',
  'long-cover-hook': 'The seam may be strained or sharp; look at the inside edge of the same cans.',
  'low-overlap': 'Hooks that engage too little may open in processing or handling and let bacteria in.',
  'deep-countersink': 'Cover hook and overlap may be short with it; judge both on cans of the same head.',
  'juncture-leak': 'The worst place for leaks and one that no routine point covers: readings in specification do not clear the cans made since.',
  'cold-weld': 'A weld that only sticks may open in flanging, seaming, processing or later. On a double-high body only one of the two cans may carry it.',
  'open-weld': 'The can leaks or will leak; the tester finds it only where it is open at that moment.',
  splash: 'Tips pierce the stripe and may start corrosion; where metal was lost a pinhole may follow.',
  pinhole: 'The can leaks, maybe too slowly for the tester. Product in such a can may be spoiled and unsafe.',
  'weld-step': 'The step makes a gap in the double seam at the juncture, where no routine point is taken.',
  'weld-contamination': 'The weld may be weak or porous under the burn, and the stripe may not hold on it.',
  'wide-lap': 'The weld may be cold and thick; the juncture of the same bodies is in doubt.',
  'narrow-lap': 'The weld may be overheated or open at one body end; flange cracks may follow.',
  'haz-crack': 'The crack opens at flanging or in processing; cans that passed the tester may still leak.',
  'flange-crack': 'A crack reaches into the seam and may leak at the body hook, often only after processing.',
  'torn-flange': 'The can is not sealed at the tear.',
  'short-flange': 'Body hook and overlap of the same cans may be short; seam readings of that time have to be read with it.',
  'mushroomed-flange': 'The seam may form false or with a long body hook; look at seams of the same cans.',
  'uneven-flange': 'Body hook varies round the can, so points that are in specification may stand beside one that is not.',
  'body-dent': 'At the seam a dent may have opened the hooks for a moment and let water in, with nothing to be seen later.',
  'cable-cut': 'Worn metal may leak or corrode through after some time.',
  'fractured-bead': 'The can leaks or will leak; coating is broken there as well.',
  'peaked-end': 'The seam was strained and may have opened for a moment; a swollen end can also be growth of bacteria. Do not taste.',
  'stripe-void': 'Bare weld may corrode, stain or pick up iron; perforation can follow after months on the shelf.',
  'thin-stripe': 'Corrosion or sulphide stain may show only months later, after delivery.',
  'stripe-delamination': 'Coating may be in the product, and bare weld may corrode; a sound look before processing does not clear the cans.',
  leaker: 'A can that leaks can carry bacteria that kill, clostridium botulinum among them. Do not taste. Cans of the same origin may leak too, whether they look sound or not.',
};

/**
 * What a finding may mean for product that is made already, closing with who decides. Null for a code that the taxonomy
 * does not hold. Common practice, no source.
 */
export function cautionFor(defectCode: string): string | null {
  const text = Object.hasOwn(meaning, defectCode) ? meaning[defectCode] : undefined;
  return text === undefined ? null : `${text} ${deferral}`;
}
