import { PHOTO_BYTES } from '#contract/check-photos';
import { Problem } from '#contract/problem';
import type { Request } from './endpoint.js';

export type UploadedFile = { fileName: string; content: Buffer };

/** The files of the field "photo", each at most 10 MB. A file name is only a label: its folders and control characters go. */
export async function readUploads(request: Request): Promise<UploadedFile[]> {
  if (!request.isMultipart()) throw new Problem('invalid-input', 'Send the photos as multipart/form-data.', [{ field: 'photo', expected: 'a file' }]);
  const files: UploadedFile[] = [];
  for await (const part of request.parts({ limits: { fileSize: PHOTO_BYTES, files: 10 } })) {
    if (part.type !== 'file') continue;
    const fileName = labelOf(part.filename);
    const content = await part.toBuffer().catch((error: unknown) => {
      if ((error as { code?: unknown }).code === 'FST_REQ_FILE_TOO_LARGE') throw new Problem('too-large', `“${fileName}” is larger than 10 MB. Make the picture smaller and add it again.`);
      throw error;
    });
    if (part.fieldname === 'photo') files.push({ fileName, content });
  }
  return files;
}

function labelOf(name: string): string {
  const plain = (name.split(/[\\/]/).at(-1) ?? '').replace(/\p{Cc}/gu, '').trim().slice(0, 120);
  return plain === '' ? 'photo' : plain;
}
