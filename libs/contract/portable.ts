import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { administrators } from './roles.js';

export const exportEverything = endpoint({
  method: 'GET', path: '/api/export', feature: 'portable', access: administrators,
  summary: 'Everything that the plant has recorded, as one ZIP of CSV files',
  description: 'One CSV a table in the order of its key, photos included (hexadecimal), dictionary.csv (table, column, meaning, unit), and manifest.json with rows and SHA-256 of each file. One snapshot. Passwords and sessions stay here. `npm run import-everything -- FILE` brings it into an empty installation. The audit trail notes who took it.',
  answer: z.string(), answerType: 'application/zip',
});
