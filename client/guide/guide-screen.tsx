/** A page to print and hang up: what the crew does at the scale, what the lead does over the weeks. */

import { Link } from 'wouter';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { GUIDE_WORDS } from '../words/guides.ts';
import { GUIDES, type GuideFor } from './which.ts';
import './guide.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function GuideScreen({ of }: { readonly of: GuideFor }) {
  const guide = GUIDE_WORDS[of];
  return (
    <article className="page guide stack">
      <h1>{guide.title}</h1>
      <div className="row no-print">
        <Button slim onPress={() => print()}>{say`Print`}</Button>
        {GUIDES.filter((other) => other.of !== of).map((other) => (
          <Link key={other.of} className="button plain slim" href={`/guide/${other.of}`}>
            {other.name}
          </Link>
        ))}
      </div>
      {guide.sections.map(({ title, isInOrder, lines }) => {
        const List = isInOrder ? 'ol' : 'ul';
        return (
          <section key={title} className="stack-tight">
            <h2>{title}</h2>
            <List>
              {lines.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </List>
          </section>
        );
      })}
    </article>
  );
}
