import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Ask } from '../api/ask.ts';

/** Ways around the desk that views use. */
export interface Navigation {
  /** Goes to an address of the desk. @param how `replace` for what is no step of its own, such as a letter typed */
  go(href: string, how?: 'push' | 'replace'): void;
  readonly ask: Ask;
}

const Context = createContext<Navigation | undefined>(undefined);
export const NavigationProvider = Context.Provider;

export function useNavigation(): Navigation {
  const navigation = useContext(Context);
  if (!navigation) throw new Error('a view stands outside of the desk');
  return navigation;
}
