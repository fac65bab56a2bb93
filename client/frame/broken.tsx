/** What is shown when a screen breaks: words and a way on, instead of an empty page. A new version of Tarebook can do it to an old page. */

import { Component, type ReactNode } from 'react';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';

export class Broken extends Component<{ readonly children: ReactNode }, { readonly isBroken: boolean }> {
  override state = { isBroken: false };

  static getDerivedStateFromError(): { readonly isBroken: boolean } {
    return { isBroken: true };
  }

  override render(): ReactNode {
    if (!this.state.isBroken) return this.props.children;
    return (
      <div className="narrow-page">
        <div className="notice bad stack-tight" role="alert">
          <h1 className="empty-title">{say`This page could not be shown`}</h1>
          <p>{say`What is recorded is safe. Reload the page.`}</p>
          <div>
            <Button onPress={() => location.reload()}>{say`Reload`}</Button>
          </div>
        </div>
      </div>
    );
  }
}
