import { useEffect, useState } from 'react';

/** Colours the 3D view draws with, each `#rrggbb`. */
export interface ViewportTheme {
  readonly coat: string;
  readonly mask: string;
  readonly maskInk: string;
  readonly contact: string;
  readonly contactInk: string;
  readonly showInk: string;
  readonly findingInk: string;
  readonly gas: string;
  readonly gasInk: string;
  readonly liquid: string;
  readonly liquidInk: string;
  /** Above the level of the bath. */
  readonly dry: string;
  readonly dryInk: string;
  readonly edge: string;
  /** Of lines beside parts, readable on the page's own ground: a tank's outline, hangers. */
  readonly ink: string;
  readonly selected: string;
}

type ThemeColour = keyof ViewportTheme;

const TOKEN_OF_COLOUR: Record<ThemeColour, string> = {
  coat: '--view-coat',
  mask: '--view-mask',
  maskInk: '--view-mask-ink',
  contact: '--view-contact',
  contactInk: '--view-contact-ink',
  showInk: '--view-show-ink',
  findingInk: '--view-finding-ink',
  gas: '--view-gas',
  gasInk: '--view-gas-ink',
  liquid: '--view-liquid',
  liquidInk: '--view-liquid-ink',
  dry: '--view-dry',
  dryInk: '--view-dry-ink',
  edge: '--view-edge',
  ink: '--ink',
  selected: '--view-selected',
};

/** For paper: light tones that differ in grey as well, black lines. */
export const PRINT_THEME: ViewportTheme = {
  coat: '#b6c0c6',
  mask: '#fbfbfb',
  maskInk: '#3a3a3a',
  contact: '#f0f0f0',
  contactInk: '#1c1c1c',
  showInk: '#ffffff',
  findingInk: '#555555',
  gas: '#e8e8e8',
  gasInk: '#333333',
  liquid: '#8f999e',
  liquidInk: '#222222',
  dry: '#ffffff',
  dryInk: '#7a7a7a',
  edge: '#111111',
  ink: '#111111',
  selected: '#b6c0c6',
};

/**
 * The theme as the style sheets give it at `element`: the custom properties of viewport.css, resolved by the browser,
 * so that light-dark(), color-mix() and wide-gamut notations all work.
 */
export function readViewportTheme(element: HTMLElement): ViewportTheme {
  const probe = element.ownerDocument.createElement('span');
  probe.hidden = true;
  element.append(probe);
  const canvas = element.ownerDocument.createElement('canvas');
  canvas.width = 1;
  canvas.height = 1;
  const context = canvas.getContext('2d', { willReadFrequently: true });
  const read = (colour: ThemeColour): string => {
    probe.style.color = `var(${TOKEN_OF_COLOUR[colour]})`;
    if (!context) return PRINT_THEME[colour];
    context.clearRect(0, 0, 1, 1);
    context.fillStyle = getComputedStyle(probe).color;
    context.fillRect(0, 0, 1, 1);
    const [r, g, b] = context.getImageData(0, 0, 1, 1).data;
    return `#${[r!, g!, b!].map((part) => part.toString(16).padStart(2, '0')).join('')}`;
  };
  try {
    const colours = Object.keys(TOKEN_OF_COLOUR) as ThemeColour[];
    return Object.fromEntries(colours.map((colour) => [colour, read(colour)])) as unknown as ViewportTheme;
  } finally {
    probe.remove();
  }
}

/** The theme at the page's root, read again whenever the page switches between light and dark or changes a token. */
export function useViewportTheme(): ViewportTheme {
  const [theme, setTheme] = useState(() => readViewportTheme(document.body));
  useEffect(() => {
    const refresh = (): void => {
      const next = readViewportTheme(document.body);
      setTheme((before) => (sameTheme(before, next) ? before : next));
    };
    refresh();
    const observer = new MutationObserver(refresh);
    observer.observe(document.documentElement, { attributes: true });
    const dark = matchMedia('(prefers-color-scheme: dark)');
    dark.addEventListener('change', refresh);
    return () => {
      observer.disconnect();
      dark.removeEventListener('change', refresh);
    };
  }, []);
  return theme;
}

function sameTheme(a: ViewportTheme, b: ViewportTheme): boolean {
  return (Object.keys(TOKEN_OF_COLOUR) as ThemeColour[]).every((colour) => a[colour] === b[colour]);
}
