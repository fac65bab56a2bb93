/**
 * Why a store could not be opened, backed up or restored, in words for the person who started the program.
 *
 * Must not carry a password: causes that quote a connection URL are never attached.
 */

export type StoreRefusalCode =
  | 'folder-in-use'
  | 'not-a-folder'
  | 'not-a-data-folder'
  | 'folder-not-writable'
  | 'folder-damaged'
  | 'disk-full'
  | 'postgres-url-malformed'
  | 'postgres-unreachable'
  | 'postgres-login-refused'
  | 'postgres-no-such-database'
  | 'postgres-role-missing'
  | 'postgres-not-permitted'
  | 'postgres-unsuitable'
  | 'schema-newer'
  | 'backup-place-taken'
  | 'backup-not-written'
  | 'backup-chain-broken'
  | 'backup-unreadable'
  | 'backup-damaged'
  | 'backup-newer'
  | 'store-not-empty'
  | 'store-moved-on';

export class StoreRefusal extends Error {
  readonly code: StoreRefusalCode;
  readonly words: string;
  /** What to do about it, in plain words; also the end of `message`. */
  readonly remedy: string;

  constructor(facts: { code: StoreRefusalCode; words: string; remedy: string; cause?: unknown }) {
    super(`${facts.words} ${facts.remedy}`, facts.cause === undefined ? undefined : { cause: facts.cause });
    this.name = 'StoreRefusal';
    this.code = facts.code;
    this.words = facts.words;
    this.remedy = facts.remedy;
  }
}
