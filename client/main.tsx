/** Starts the browser app. The look comes first, so that a screen's own sheet can add to it. */
import './look/tokens.css';
import './look/base.css';
import './look/controls.css';
import './look/print.css';
import { QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { Router } from 'wouter';
import { queries } from './door/queries.ts';
import { App } from './frame/app.tsx';
import { keepApp } from './offline/newer-app.ts';
import { askedFirst, watchWayBack } from './pieces/leaving.ts';

const root = document.getElementById('app');
if (root === null) throw new Error('the page has no place for the app');

watchWayBack();
keepApp();
createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={queries}>
      <Router aroundNav={askedFirst}>
        <App />
      </Router>
    </QueryClientProvider>
  </StrictMode>,
);
