/** The page before anybody is signed in: mark, a word of what this is, one form. */
import type { ReactNode } from 'react';
import { Cautions } from './cautions.tsx';
import './frame.css';

export function Welcome(props: { readonly title: string; readonly words: string; readonly children: ReactNode }) {
  return (
    <>
      <main className="narrow-page welcome">
        <div className="welcome-name">
          <img src="/mark.svg" alt="" width="44" height="44" />
          <h1>{props.title}</h1>
        </div>
        <p className="soft">{props.words}</p>
        <div className="card">{props.children}</div>
      </main>
      <Cautions />
    </>
  );
}
