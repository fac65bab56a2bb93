/** How one field of an entry is asked for. Its name is the one that `shared/words` reads. */

export type FieldKind =
  | 'text'
  | 'long'
  | 'day'
  | 'mass'
  | 'length'
  | 'share'
  | 'mass or share'
  | 'station or share'
  | 'temperature'
  | 'count'
  | 'part'
  | 'assembly'
  | 'pieces'
  | 'choice'
  | 'picker'
  | 'not yet in'
  | 'groups';

export type FieldSpec = {
  readonly name: string;
  readonly label: string;
  readonly is: FieldKind;
  readonly hint?: string;
  readonly options?: readonly { readonly value: string; readonly words: string }[];
  readonly suggest?: 'groups' | 'scales';
  /** Folded away under words of its own. */
  readonly isMore?: boolean;
  readonly isWide?: boolean;
};

/** Everything typed into a form, by field name; targets of groups under `groups/` and the group's name. */
export type Form = Readonly<Record<string, string>>;
