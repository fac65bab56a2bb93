/**
 * The pages from which a tablet fetches the certificate of the shop's own authority. They may be served over plain http: the fingerprint
 * shown at the server tells whether what arrived is what was sent.
 */
import { X509Certificate } from 'node:crypto';
import type { Env, Hono } from 'hono';
import { html } from 'hono/html';
import { PAGE_STYLE, page } from '#api/web/page.ts';
import { LOCALE, say } from '#shared/words/say.ts';

export function trustPages<E extends Env>(app: Hono<E>, authority: string): void {
  app.get('/trust/page.css', (c) => c.body(PAGE_STYLE, 200, { 'Content-Type': 'text/css; charset=utf-8' }));
  app.get('/trust/authority.crt', (c) =>
    c.body(authority, 200, {
      'Content-Type': 'application/x-x509-ca-cert',
      // Inline: Safari offers it as a profile, and what cannot show it keeps it as a file of this name.
      'Content-Disposition': 'inline; filename="tarebook-authority.crt"',
    }),
  );
  app.get('/trust', (c) =>
    c.html(
      page(
        say`Let this device trust the shop’s server`,
        html`<p>${say`The server has a certificate of its own making. A device that trusts its authority connects without warnings; this is done once on each device. The authority can vouch for names and addresses of a local network alone.`}</p>
<p><a href="/trust/authority.crt">${say`Fetch the authority’s certificate`}</a></p>
<p>${say`Compare its fingerprint (SHA-256) with the one in the server’s window:`}<br><code>${fingerprintOf(authority)}</code></p>
<h2>iPad</h2>
<ol><li>${say`Open this page in Safari, fetch the certificate and allow the profile to be downloaded.`}</li>
<li>${say`Settings: choose “Profile Downloaded” (else General, VPN & Device Management) and install it.`}</li>
<li>${say`Settings, General, About, Certificate Trust Settings: switch full trust on for “${nameOf(authority)}”. Without this step the iPad goes on warning.`}</li></ol>
<h2>Android</h2>
<ol><li>${say`Fetch the certificate with Chrome. It lies among the downloads; opening it there does not install it.`}</li>
<li>${say`Settings: search for “CA certificate”. It stands under Security (and privacy), Encryption and credentials, Install a certificate; on some tablets under Other security settings, Install from device storage. A tablet without a screen lock asks for one first.`}</li>
<li>${say`Choose CA certificate, Install anyway, and the file.`}</li>
<li>${say`Use Chrome: Firefox on Android does not look at certificates installed this way.`}</li></ol>
<h2>Windows, macOS, Linux</h2>
<ol><li>${say`Windows: open the file, Install Certificate, and place it under Trusted Root Certification Authorities.`}</li>
<li>${say`macOS: open the file, add it to the login keychain, open it there and set it to Always Trust.`}</li>
<li>${say`Linux and Firefox: in the browser’s settings search for certificates, choose Authorities and import the file.`}</li></ol>
<p>${say`When it is done, close the browser and open Tarebook again at its https address.`}</p>`,
        { style: '/trust/page.css', language: LOCALE },
      ),
    ),
  );
}

function nameOf(pem: string): string {
  return new X509Certificate(pem).subject.replace(/^CN=/, '');
}

export function fingerprintOf(pem: string): string {
  return new X509Certificate(pem).fingerprint256;
}
