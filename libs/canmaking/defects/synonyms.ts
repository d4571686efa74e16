export type SynonymGroup = { preferred: string; others: readonly string[] };

const group = (preferred: string, ...others: string[]): SynonymGroup => ({ preferred, others });

/**
 * Words of the trade that mean the same in a search. Common practice, no source, but for the Chinese terms, which follow
 * the term list of GB/T 14251-2017, and the French, German and Spanish ones, which are from memory.
 * A word of `ambiguousTerms` may stand in several groups: the caller shows both, never merges them.
 */
export const synonymGroups: readonly SynonymGroup[] = [
  group('leaker', 'leak', 'leaking can', 'micro-leak', 'air-test reject', 'swell from leak', 'Leckage', 'Undichtigkeit', 'fuite', 'fuga'),
  group('swell', 'blown', 'bulged', 'hard swell', 'soft swell', 'springer', 'flipper'),
  group('side seam', 'weld', 'longitudinal seam', 'body seam', 'welded seam', 'WSS', 'Schweißnaht', 'Längsnaht', 'soudure', 'costura lateral'),
  group('double seam', 'end seam', 'closing seam', 'chime', 'round seam', '二重卷边', 'serti', 'Falz', 'cierre'),
  group("maker's end", 'ME', "can-maker's end", 'factory end', 'bottom end'),
  group("packer's end", "canner's end", 'CE', "filler's end", 'top end'),
  group('juncture', 'crossover', 'cross-over', 'lap', 'weld crossing', 'junction'),
  group('cover hook', 'end hook', 'EH', 'CH', 'lid hook', 'Deckelhaken', 'crochet de couvercle', 'gancho de tapa'),
  group('body hook', 'BH', 'flange hook', 'Rumpfhaken', 'crochet de corps', 'gancho de cuerpo'),
  group('seam length', 'seam width', 'seam height', 'W', 'SL'),
  group('seam thickness', 'ST', 'S'),
  group('countersink', 'CS', 'cup depth', 'chuck wall depth', 'Kerntiefe'),
  group('seam overlap', 'hook overlap', 'engagement', 'OL', 'overlap', '叠接率', 'croisure', 'traslape'),
  group('weld overlap', 'lap', 'lap width', 'overlap width', 'overlap'),
  group('body hook butting', 'BHB', 'butting', '% body hook butting'),
  group('free space', 'seam gap', 'FS', 'voids'),
  group('tightness', 'tightness rating', 'TR', 'wrinkle-free %', 'wrinkle', 'wrinkle rating', '紧密度'),
  group('juncture rating', 'JR', 'internal droop', 'cover-hook droop', 'juncture cover-hook integrity', '接缝盖钩完整率'),
  group('pressure ridge', 'chuck impression', 'body-wall impression'),
  group('cutover', 'cut-over', 'fractured cutover'),
  group('sharp seam', 'sharpness', 'fin'),
  group('vee', 'lip', 'spur', 'pin lip'),
  group('droop', 'sag'),
  group('false seam', 'mis-seam', 'misassembly'),
  group('knocked-down flange', 'KDF', 'mushroom knock', 'folded flange'),
  group('knocked-down curl', 'KDC'),
  group('deadhead', 'spinner', 'skidder', 'skid'),
  group('flange crack', 'split flange', 'torn flange', 'cut-down flange', 'flange split', 'Bördelriss'),
  group('cold weld', 'stuck weld', 'un-fused', 'sticker', 'weak weld', '冷焊', 'Kaltschweißung', 'soudure froide', 'soldadura fría'),
  group('splash', 'expulsion', 'spatter', 'extrusion', 'weld flash', 'burn-out', 'Schweißspritzer'),
  group('pinhole', 'blow-hole', 'burn-through', 'blow-through', 'breakdown', '针孔', '击穿'),
  group('weld step', 'lap misalignment', 'weld tail', '焊缝错位'),
  group('tear test', 'pull test', 'peel test', 'weld pull'),
  group('nugget pitch', 'nugget distance', 'weld pitch'),
  group('weld window', 'lobe', 'current range', 'weldability range'),
  group('heat-affected zone', 'HAZ'),
  group('stripe', 'side-seam stripe', 'powder stripe', 'SSS', 'lacquer stripe', 'repair coat', '补涂带'),
  group('enamel test', 'mA test', 'metal exposure', 'porosity'),
  group('copper sulphate test', 'CuSO4', 'copper test'),
  group('plate', 'tinplate', 'ETP', 'TP'),
  group('double reduced', 'DR', '2CR'),
  group('single reduced', 'SR', '1CR'),
  group('tin-free steel', 'ECCS', 'TFS'),
  group('temper', 'TS grade', 'TH grade', 'HR30T'),
  group('blank', 'body blank', 'slit'),
  group('parting', 'separating', 'slitting cans', 'score line', 'double-high', 'two-high', 'twin'),
  group('head', 'station', 'spindle', 'turret pocket'),
  group('lifter', 'base plate', 'lower lift', 'baseplate pressure'),
  group('op 1', 'first operation', 'first op roll', 'roll 1'),
  group('op 2', 'second operation', 'roll 2'),
  group('hold', 'block', 'quarantine', 'HFI'),
  group('compound', 'gasket', 'lining compound', 'sealant', 'Dichtmasse'),
  group('teardown', 'strip', 'cut-down', 'seam strip'),
  group('neck', 'necked-in', 'reduced end'),
  group('bead', 'corrugation', 'rib'),
  group('end', 'lid', 'cover', 'bottom'),
  group('burr', 'sliver', 'Grat', 'bavure', 'rebaba'),
];

export type AmbiguousTerm = { term: string; meanings: readonly { preferred: string; hint: string }[] };

/** Words with two meanings on a can line: ask, or show the meanings apart. */
export const ambiguousTerms: readonly AmbiguousTerm[] = [
  { term: 'overlap', meanings: [
    { preferred: 'seam overlap', hint: 'engagement of cover hook and body hook in the double seam' },
    { preferred: 'weld overlap', hint: 'lap of the body plate in the side seam' },
  ] },
  { term: 'Überlappung', meanings: [
    { preferred: 'seam overlap', hint: 'engagement of cover hook and body hook in the double seam' },
    { preferred: 'weld overlap', hint: 'lap of the body plate in the side seam' },
  ] },
  { term: 'lap', meanings: [
    { preferred: 'weld overlap', hint: 'lap of the body plate in the side seam' },
    { preferred: 'juncture', hint: 'where the side seam passes through the double seam' },
  ] },
  { term: 'wrinkle', meanings: [
    { preferred: 'tightness', hint: 'percent free of wrinkle: high is good' },
    { preferred: 'wrinkle number', hint: 'older number 0 to 10: high is bad, it runs the other way' },
  ] },
  { term: 'wrinkle rating', meanings: [
    { preferred: 'tightness', hint: 'percent free of wrinkle: high is good' },
    { preferred: 'wrinkle number', hint: 'older number 0 to 10: high is bad, it runs the other way' },
  ] },
  { term: 'strip', meanings: [
    { preferred: 'teardown', hint: 'taking the double seam apart' },
    { preferred: 'tear test', hint: 'the weld strip pulled off a body' },
  ] },
  { term: 'voids', meanings: [
    { preferred: 'free space', hint: 'gap inside the double seam' },
    { preferred: 'stripe', hint: 'weld metal that the stripe does not cover' },
  ] },
  { term: 'lip', meanings: [
    { preferred: 'vee', hint: 'tongue of metal below the seam' },
    { preferred: 'chuck lip', hint: 'edge of the seaming chuck' },
  ] },
  { term: 'spindle', meanings: [
    { preferred: 'head', hint: 'seaming head' },
    { preferred: 'flanging spindle', hint: 'spindle of the flanger' },
  ] },
];
