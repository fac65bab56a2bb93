/** One figure of the headline: its name, its value with unit, a word for how it stands, and the facts it is made of. */
import type { ReactNode } from 'react';

export function Figure(props: {
  readonly name: string;
  readonly value: string;
  /** Standard uncertainty of the value, in its unit. */
  readonly std?: string | undefined;
  readonly unit: string;
  /** Its facts need the room of two. */
  readonly isWide?: boolean;
  readonly mark?: 'good' | 'warn' | 'bad' | undefined;
  readonly word?: string | undefined;
  readonly picture?: ReactNode;
  readonly facts?: readonly { readonly name: string; readonly value: string }[];
  readonly children?: ReactNode;
}) {
  return (
    <div className={`card figure ${props.mark ?? ''} ${props.isWide === true ? 'wide-figure' : ''}`}>
      <h2 className="figure-name">{props.name}</h2>
      <p className="figure-value">
        {props.value}{' '}
        <span className="figure-unit">
          {props.std === undefined ? '' : `±\u00a0${props.std} `}
          {props.unit}
        </span>
      </p>
      {props.word === undefined ? null : <p className="figure-word">{props.word}</p>}
      {props.picture}
      {props.facts === undefined ? null : (
        <dl className="facts">
          {props.facts.map(({ name, value }) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      )}
      {props.children === undefined ? null : <p className="soft small">{props.children}</p>}
    </div>
  );
}
