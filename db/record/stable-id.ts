/**
 * Ids that follow from a name (UUID version 5, RFC 9562), so that an import that is repeated makes the same ids again (rule I4).
 */
import { createHash } from 'node:crypto';

/** The id of `name` within the namespace of an aircraft's id. */
export function stableId(aircraftId: string, name: string): string {
  const namespace = Buffer.from(aircraftId.replaceAll('-', ''), 'hex');
  const hash = createHash('sha1').update(namespace).update(name, 'utf8').digest().subarray(0, 16);
  hash.writeUInt8((hash.readUInt8(6) & 0x0f) | 0x50, 6);
  hash.writeUInt8((hash.readUInt8(8) & 0x3f) | 0x80, 8);
  const hex = hash.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
