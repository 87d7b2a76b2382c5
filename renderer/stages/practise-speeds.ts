/** How fast time goes in a practise run. */
export const SPEEDS = [
  { id: '1', label: 'as it is' },
  { id: '10', label: '10 ×' },
  { id: '60', label: '60 ×' },
  { id: '600', label: '600 ×' },
] as const;
