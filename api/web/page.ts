/** A plain page of the server's own: no script, one style sheet. What is put into it is escaped by `html`. */
import { html } from 'hono/html';
import type { HtmlEscapedString } from 'hono/utils/html';

type Html = HtmlEscapedString | Promise<HtmlEscapedString>;

export function page(title: string, body: Html, { style = '/api/page.css', language = 'en' } = {}): Html {
  return html`<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" href="${style}">
</head>
<body>
<h1>${title}</h1>
${body}
</body>
</html>
`;
}

export const PAGE_STYLE = `:root { color-scheme: light dark; }
body { font: 1rem/1.5 system-ui, sans-serif; margin: 2rem auto; max-width: 60rem; padding: 0 1rem; }
h1 { font-size: 1.5rem; }
h2 { font-size: 1.15rem; margin-top: 2rem; }
table { border-collapse: collapse; width: 100%; }
th, td { border-bottom: 1px solid color-mix(in srgb, currentColor 25%, transparent); padding: .4rem .6rem; text-align: left; vertical-align: top; }
code { font-family: ui-monospace, monospace; }
td code { overflow-wrap: anywhere; }
`;
