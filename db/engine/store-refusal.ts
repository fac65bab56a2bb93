/**
 * Why a store could not be opened, in words for the person who started the program. Thrown by `openStore` only.
 *
 * Must not carry a password: causes that quote a connection URL are never attached.
 */

export type StoreRefusalCode =
  | 'folder-in-use'
  | 'not-a-folder'
  | 'not-a-data-folder'
  | 'folder-not-writable'
  | 'folder-damaged'
  | 'postgres-url-malformed'
  | 'postgres-unreachable'
  | 'postgres-login-refused'
  | 'postgres-no-such-database'
  | 'postgres-role-missing'
  | 'postgres-not-permitted'
  | 'postgres-unsuitable'
  | 'schema-newer';

export class StoreRefusal extends Error {
  readonly code: StoreRefusalCode;
  /** What to do about it, in plain words; also the end of `message`. */
  readonly remedy: string;

  constructor(facts: { code: StoreRefusalCode; words: string; remedy: string; cause?: unknown }) {
    super(`${facts.words} ${facts.remedy}`, facts.cause === undefined ? undefined : { cause: facts.cause });
    this.name = 'StoreRefusal';
    this.code = facts.code;
    this.remedy = facts.remedy;
  }
}
