import { useCallback } from 'react';
import { type NavigateOptions, useSearchParams } from 'react-router';

/**
 * What the address asks for, and how to change it. A change begins from the address as it stands at that moment, not from what
 * was drawn last: of two changes in quick succession the second must not undo the first.
 */
export function useAddressParams() {
  const [params, setParams] = useSearchParams();
  const change = useCallback((next: (now: URLSearchParams) => URLSearchParams, options?: NavigateOptions) => setParams(next(new URLSearchParams(window.location.search)), options), [setParams]);
  return [params, change] as const;
}
