import { saveBlob } from '../../shared/save-blob.js';

/** Hands a text to the person, as a download. */
export const offerFile = (name: string, type: 'text/csv' | 'application/json', text: string): void => saveBlob(new Blob([text], { type: `${type};charset=utf-8` }), name);
