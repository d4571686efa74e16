/** A key that no other entry has. Not crypto.randomUUID: browsers keep that from pages served without TLS, as in many plants. */
export function newKey(): string {
  return `entry-${[...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('')}`;
}
