import { expect, it } from 'vitest';
import { mayPostTo } from './guarded-address.js';

it('posts to public addresses, to those inside a network only when allowed, and to some never', () => {
  for (const address of ['93.184.216.34', '8.8.8.8', '2606:2800:220:1::1', '::ffff:8.8.8.8', '172.32.0.1']) expect(mayPostTo(address, false), address).toBe(true);
  for (const address of ['127.0.0.1', '10.1.2.3', '172.16.0.1', '172.31.255.255', '192.168.1.1', '100.64.0.1', '::1', 'fd00::1', '::ffff:127.0.0.1', '::ffff:10.0.0.1', '64:ff9b::a00:1']) {
    expect(mayPostTo(address, false), address).toBe(false);
    expect(mayPostTo(address, true), address).toBe(true);
  }
  for (const address of ['0.0.0.0', '169.254.169.254', '::ffff:169.254.169.254', '64:ff9b::a9fe:a9fe', '2002:a9fe:a9fe::1', 'fe80::1', '224.0.0.1', '255.255.255.255', '::', 'not an address', '']) expect(mayPostTo(address, true), address).toBe(false);
});
