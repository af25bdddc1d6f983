import type { VNode } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { addressOf, deviceOf, HIT_KINDS, type Hit } from './hits.ts';
import { useNavigation } from './navigation.ts';
import { SearchHits } from './search.graphql.ts';

/** Suggestions shown. */
const SHOWN = 8;
/** How long to wait for the next letter, ms. */
const PAUSE = 80;

/**
 * Search as you type: a combobox with a list, after the ARIA Authoring Practices (W3C, "Combobox Pattern", list autocomplete with manual
 * selection). Before any script runs it is a plain form.
 */
export function SearchBox({ asked }: { readonly asked: string }): VNode {
  const { ask, go } = useNavigation();
  const key = useId();
  const [text, setText] = useState(asked);
  const [hits, setHits] = useState<readonly Hit[]>([]);
  const [at, setAt] = useState(-1);
  const [isOpen, setOpen] = useState(false);
  const isTyped = useRef(false);

  useEffect(() => setText(asked), [asked]);
  useEffect(() => {
    if (!isTyped.current) return;
    if (text.trim() === '') {
      setHits([]);
      setOpen(false);
      return;
    }
    const way = new AbortController();
    const timer = setTimeout(() => {
      ask(SearchHits, { text: text.slice(0, 200), first: SHOWN }, way.signal).then(
        ({ data }) => {
          setHits(data.search?.nodes ?? []);
          setAt(-1);
          setOpen(true);
        },
        // Without suggestions the form still searches.
        () => setHits([]),
      );
    }, PAUSE);
    return () => {
      clearTimeout(timer);
      way.abort();
    };
  }, [text, ask]);

  const close = () => {
    setOpen(false);
    setAt(-1);
  };
  const choose = (hit: Hit) => {
    close();
    isTyped.current = false;
    go(addressOf(hit));
  };
  const press = (event: KeyboardEvent) => {
    if (event.key === 'Escape') {
      if (isOpen) event.preventDefault();
      close();
      return;
    }
    if ((event.key === 'ArrowDown' || event.key === 'ArrowUp') && hits.length > 0) {
      event.preventDefault();
      setOpen(true);
      const step = event.key === 'ArrowDown' ? 1 : -1;
      // The field itself is one of the places that arrows go round.
      setAt((before) => ((before + 1 + step + hits.length + 1) % (hits.length + 1)) - 1);
      return;
    }
    if (event.key === 'Enter' && isOpen && hits[at]) {
      event.preventDefault();
      choose(hits[at]);
    }
  };

  const isShown = isOpen && hits.length > 0;
  return (
    <form
      class="search"
      action="/search"
      method="get"
      onSubmit={(event) => {
        event.preventDefault();
        close();
        isTyped.current = false;
        if (text.trim() !== '') go(`/search?text=${encodeURIComponent(text.trim())}`);
      }}
    >
      <input
        enterkeyhint="search"
        name="text"
        aria-label="Search the archive"
        placeholder="Search"
        maxLength={200}
        autocomplete="off"
        role="combobox"
        aria-expanded={isShown}
        aria-controls={`${key}-hits`}
        aria-autocomplete="list"
        aria-activedescendant={isShown && at >= 0 ? `${key}-${at}` : undefined}
        value={text}
        onInput={(event) => {
          isTyped.current = true;
          setText(event.currentTarget.value);
        }}
        onKeyDown={press}
        onBlur={close}
      />
      <div id={`${key}-hits`} role="listbox" aria-label="Found" class="hits" hidden={!isShown}>
        {isShown &&
          hits.map((hit, i) => (
            // biome-ignore lint/a11y/useFocusableInteractive: the field has the focus, as the pattern says
            // biome-ignore lint/a11y/useKeyWithClickEvents: keys go to the field
            <div
              key={hit.id}
              id={`${key}-${i}`}
              role="option"
              aria-selected={i === at}
              // Before the field loses its focus, which closes the list.
              onMouseDown={(event) => event.preventDefault()}
              onClick={() => choose(hit)}
            >
              {hit.title} <small>{[HIT_KINDS[hit.kind], deviceOf(hit)].filter(Boolean).join(', ')}</small>
            </div>
          ))}
      </div>
    </form>
  );
}
