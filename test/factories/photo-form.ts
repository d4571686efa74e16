const boundary = 'x-test-boundary';

/** A PNG by its first bytes; `fill` makes pictures that differ. */
export const pngOf = (fill: number): Buffer => Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.alloc(200, fill)]);

/** Headers and body of a form with these files in its field "photo". */
export const photoForm = (files: readonly { fileName: string; content: Buffer }[]) => ({
  headers: { 'content-type': `multipart/form-data; boundary=${boundary}` },
  payload: Buffer.concat([...files.flatMap(({ fileName, content }) => [Buffer.from(`--${boundary}\r\ncontent-disposition: form-data; name="photo"; filename="${fileName}"\r\ncontent-type: image/jpeg\r\n\r\n`), content, Buffer.from('\r\n')]), Buffer.from(`--${boundary}--\r\n`)]),
});
