import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '@fontsource-variable/source-serif-4/wght.css';
import './look/tokens.css';
import './look/page.css';
import './look/frame.css';
import './look/controls.css';
import './look/frame-narrow.css';
import './look/places.css';
import './look/claim.css';
import './look/claim-behind.css';
import './look/published.css';
import './look/reach.css';
import './look/records.css';
import './look/places-narrow.css';
import './look/filters.css';
import './look/forms.css';
import './look/bench.css';
import './look/runs.css';
import './look/planning.css';
import './look/plan.css';
import './look/looking.css';
import './look/looking-narrow.css';
import './look/hand.css';
import './look/method.css';
import './look/evidence.css';
import './look/blinded.css';
import './look/subset.css';
import './look/test-piece.css';
import './look/drills.css';
import './look/spectra.css';
import './look/people.css';
import './look/print.css';
import { QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App, fetchAhead, fetchPlaces } from './app/app.tsx';
import { say } from './app/notices.tsx';
import { startTheme } from './app/theme.ts';
import { onOutbox } from './server/outbox.ts';
import { listenForProgress, refresh } from './server/progress.ts';
import { makeClient } from './server/queries.ts';
import { takeInAnswer } from './server/take-in.ts';

startTheme();
fetchAhead();
const client = makeClient();
onOutbox({
  acknowledged: (mark, answer) => {
    takeInAnswer(client, mark.study, answer);
    refresh(client, mark.study, mark.photo);
  },
  declined: (mark, sentence) => {
    say(`A mark was not kept: ${sentence}`);
    refresh(client, mark.study, mark.photo);
  },
});
listenForProgress(client);
// Taps that waited on this device while it was off are sent from whatever page is opened first.
// A program that stopped meanwhile gives no part of the page; taps then leave with the next page that opens.
setTimeout(() => {
  void import('./bench/tap-box.ts').catch(() => {});
  fetchPlaces();
}, 1500);
createRoot(document.getElementById('page')!).render(
  <StrictMode>
    <QueryClientProvider client={client}>
      <App />
    </QueryClientProvider>
  </StrictMode>,
);
