import { useEffect, useRef, useState, type ReactNode } from 'react';

interface LongListProps<T> {
  readonly label: string;
  readonly items: readonly T[];
  readonly keyOf: (item: T) => string;
  readonly rowPx: number;
  readonly chosen: string | null;
  readonly onChoose: (item: T) => void;
  readonly row: (item: T) => ReactNode;
}

const SPARE = 6;

/** A list of any length: only the rows in sight are in the page. Arrow keys, Home and End move, Enter chooses. */
export function LongList<T>({ label, items, keyOf, rowPx, chosen, onChoose, row }: LongListProps<T>) {
  const frame = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const [height, setHeight] = useState(600);
  const [at, setAt] = useState(0);
  useEffect(() => {
    if (!frame.current) return;
    const watcher = new ResizeObserver(([entry]) => {
      if (entry) setHeight(entry.contentRect.height);
    });
    watcher.observe(frame.current);
    return () => watcher.disconnect();
  }, []);
  const first = Math.max(0, Math.floor(top / rowPx) - SPARE);
  const end = Math.min(items.length, Math.ceil((top + height) / rowPx) + SPARE);
  const active = Math.min(at, Math.max(0, items.length - 1));
  const move = (to: number): void => {
    const next = Math.max(0, Math.min(items.length - 1, to));
    setAt(next);
    const box = frame.current;
    if (!box) return;
    if (next * rowPx < box.scrollTop) box.scrollTop = next * rowPx;
    if ((next + 1) * rowPx > box.scrollTop + box.clientHeight)
      box.scrollTop = (next + 1) * rowPx - box.clientHeight;
  };
  const onKey = (event: React.KeyboardEvent): void => {
    const page = Math.max(1, Math.floor(height / rowPx) - 1);
    const steps: Readonly<Record<string, number>> = {
      ArrowDown: active + 1,
      ArrowUp: active - 1,
      PageDown: active + page,
      PageUp: active - page,
      Home: 0,
      End: items.length - 1,
    };
    const to = steps[event.key];
    if (to !== undefined) {
      event.preventDefault();
      move(to);
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      const item = items[active];
      if (item) onChoose(item);
    }
  };
  const idOf = (index: number): string => `${label.replace(/\W+/g, '-')}-${index}`;
  return (
    <div
      ref={frame}
      className="long-list"
      role="listbox"
      aria-label={label}
      tabIndex={0}
      aria-activedescendant={items.length > 0 ? idOf(active) : undefined}
      onKeyDown={onKey}
      onScroll={(event) => setTop(event.currentTarget.scrollTop)}
    >
      <div className="long-list-all" role="presentation" style={{ height: items.length * rowPx }}>
        {items.slice(first, end).map((item, i) => {
          const index = first + i;
          const key = keyOf(item);
          return (
            <div
              key={key}
              id={idOf(index)}
              role="option"
              aria-selected={key === chosen}
              aria-setsize={items.length}
              aria-posinset={index + 1}
              className={`long-row ${index === active ? 'active' : ''}`}
              style={{ top: index * rowPx, height: rowPx }}
              onClick={() => {
                setAt(index);
                onChoose(item);
              }}
            >
              {row(item)}
            </div>
          );
        })}
      </div>
    </div>
  );
}
