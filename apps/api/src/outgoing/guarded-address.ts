import { BlockList, isIP } from 'node:net';

/** Not of the public internet: IANA special-purpose registries (RFC 6890) and multicast. */
const INTERNAL4 = [['10.0.0.0', 8], ['172.16.0.0', 12], ['192.168.0.0', 16], ['127.0.0.0', 8], ['100.64.0.0', 10], ['198.18.0.0', 15], ['192.0.0.0', 24]] as const;
const INTERNAL6 = [['::1', 128], ['fc00::', 7], ['64:ff9b::', 96], ['64:ff9b:1::', 48], ['2002::', 16], ['2001::', 32]] as const;
/** Never posted to, whatever is set: this host unspecified, link-local (where clouds keep credentials, by way of NAT64 and 6to4 too), multicast, reserved. */
const NEVER4 = [['0.0.0.0', 8], ['169.254.0.0', 16], ['224.0.0.0', 4], ['240.0.0.0', 4]] as const;
const NEVER6 = [['::', 128], ['fe80::', 10], ['ff00::', 8], ['64:ff9b::a9fe:0', 112], ['2002:a9fe::', 32]] as const;

function listOf(v4: readonly (readonly [string, number])[], v6: readonly (readonly [string, number])[]): BlockList {
  const list = new BlockList();
  for (const [net, prefix] of v4) list.addSubnet(net, prefix, 'ipv4');
  for (const [net, prefix] of v6) list.addSubnet(net, prefix, 'ipv6');
  return list;
}
const [internal, never] = [listOf(INTERNAL4, INTERNAL6), listOf(NEVER4, NEVER6)];

/** Whether an IP address may be posted to. An IPv4 address written as IPv6 (::ffff:0:0/96) is judged as the IPv4 one: BlockList maps it. */
export function mayPostTo(address: string, allowInternal: boolean): boolean {
  const family = isIP(address);
  if (family === 0) return false;
  const kind = family === 6 ? 'ipv6' : 'ipv4';
  return !never.check(address, kind) && (allowInternal || !internal.check(address, kind));
}
