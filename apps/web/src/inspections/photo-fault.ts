import { PHOTO_BYTES } from '#contract/check-photos';

export const PHOTO_TYPES = 'image/jpeg,image/png,image/webp';

/** Why a file is not taken, before anything is kept or sent; the server looks at the content again. */
export function photoFault(file: { size: number; type: string }): 'large' | 'type' | null {
  if (!PHOTO_TYPES.split(',').includes(file.type)) return 'type';
  return file.size > PHOTO_BYTES ? 'large' : null;
}

export const inMegabytes = (bytes: number): number => Math.ceil(bytes / 104_857.6) / 10;
