import { expect, it } from 'vitest';
import { browserOf } from './browser-of.js';

it('names browser and system, the narrower word first, and nothing where it knows none', () => {
  expect(browserOf('Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/130.0.0.0 Safari/537.36 Edg/130.0.0.0')).toEqual({ browser: 'Edge', system: 'Windows' });
  expect(browserOf('Mozilla/5.0 (iPad; CPU OS 17_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.0 Safari/604.1')).toEqual({ browser: 'Safari', system: 'iOS' });
  expect(browserOf('Mozilla/5.0 (Linux; Android 14; Tablet) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/130.0.0.0 Safari/537.36')).toEqual({ browser: 'Chrome', system: 'Android' });
  expect(browserOf('a script')).toEqual({ browser: null, system: null });
});
