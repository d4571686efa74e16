import { useDebouncedCallback } from '@mantine/hooks';
import { useState } from 'react';

/**
 * What stands in the search field, and the address that follows it a moment later. When the address changes by itself
 * (a link, the back button), the field follows the address.
 */
export function useTypedSearch(inAddress: string, putInAddress: (text: string) => void): [typed: string, type: (text: string) => void] {
  const [state, setState] = useState({ typed: inAddress, sent: inAddress, seen: inAddress });
  const send = useDebouncedCallback((text: string) => { setState((before) => ({ ...before, sent: text })); putInAddress(text); }, 200);
  if (inAddress !== state.seen) setState({ typed: inAddress === state.sent ? state.typed : inAddress, sent: inAddress, seen: inAddress });
  return [state.typed, (text) => { setState((before) => ({ ...before, typed: text })); send(text); }];
}
