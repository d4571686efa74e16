import { expect, it } from 'vitest';
import { photoType } from './photo-type.js';

const bytes = (...parts: (number[] | string)[]) => Buffer.concat(parts.map((part) => Buffer.from(part as string)));

it('knows JPEG, PNG and WebP by content', () => {
  expect(photoType(bytes([0xff, 0xd8, 0xff, 0xe0], 'JFIF'))).toBe('image/jpeg');
  expect(photoType(bytes([0x89], 'PNG\r\n', [0x1a, 0x0a], 'IHDR'))).toBe('image/png');
  expect(photoType(bytes('RIFF', [1, 2, 3, 4], 'WEBPVP8 '))).toBe('image/webp');
});

it('takes nothing else, whatever it is called', () => {
  for (const other of ['', 'GIF89a..', '<svg xmlns="http://www.w3.org/2000/svg">', '<script>alert(1)</script>', '%PDF-1.7', 'RIFF1234WAVEfmt ', 'RIFF']) expect(photoType(bytes(other)), other).toBeNull();
  expect(photoType(bytes([0xff, 0xd8]))).toBeNull();
  expect(photoType(bytes(' ', [0xff, 0xd8, 0xff, 0xe0]))).toBeNull();
});
