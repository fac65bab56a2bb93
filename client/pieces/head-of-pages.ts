/** What stands in the margin above every printed page: what it is of, and which page of how many. */
import { useEffect } from 'react';
import { say } from '#shared/words/say.ts';

/** While the screen is there. In a sheet of its own, since a page runs the styles of this server and no others. */
export function useHeadOfPages(words: string): void {
  useEffect(() => {
    const sheet = new CSSStyleSheet();
    const head = `${quoted(`${words}, ${say`page`} `)} counter(page) "/" counter(pages)`;
    sheet.replaceSync(`@page { @top-left { content: ${head}; font: 7.5pt sans-serif; color: #444 } }`);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    return () => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
    };
  }, [words]);
}

/** As a string of CSS. */
function quoted(words: string): string {
  return `"${words.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', ' ')}"`;
}
