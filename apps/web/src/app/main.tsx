import '@mantine/core/styles.css';
import '../shared/look.css';
import '../shared/messages/catalogue.js';
import { MantineProvider } from '@mantine/core';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { RouterProvider } from 'react-router/dom';
import { ProblemError } from '../shared/http.js';
import { NewVersion } from '../shared/new-version.js';
import { theme } from '../shared/theme.js';
import { router } from './routes.js';

const client = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: 10_000,
      // The browser's word on the network is not enough to wait for it in silence: ask, and say what came of it.
      networkMode: 'always',
      refetchOnReconnect: true,
      // A refusal is an answer; only a network that is away is worth another try.
      retry: (count, error) => !(error instanceof ProblemError && error.problem.status < 500) && navigator.onLine && count < 2,
    },
  },
});

const root = document.getElementById('root');
if (root) {
  createRoot(root).render(
    <StrictMode>
      <MantineProvider theme={theme} defaultColorScheme="auto">
        <QueryClientProvider client={client}>
          <RouterProvider router={router} />
          <NewVersion />
        </QueryClientProvider>
      </MantineProvider>
    </StrictMode>,
  );
}
