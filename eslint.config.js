import reactHooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

/** Which folder may import what. Data flows one way: core knows nobody, renderer and main know core alone. */
const forbid = (patterns) => ({ 'no-restricted-imports': ['error', { patterns }] });

const coreImports = [
  { regex: '^node:', message: 'core is pure: no Node.' },
  {
    regex: '^(react|react-dom|three|three-stdlib|@react-three|zustand|electron|dexie)',
    message: 'core is pure.',
  },
  { regex: '(^|/)(renderer|main)/', message: 'core imports neither renderer nor main.' },
];
const rendererImports = [
  { regex: '^(node:|electron)', message: 'the page has no Node: go through the bridge.' },
  { regex: '(^|/)main/', message: 'renderer and main never import each other.' },
];
const mainImports = [
  { regex: '(^|/)renderer/', message: 'renderer and main never import each other.' },
  { regex: '^(react|react-dom|@react-three|zustand)', message: 'main has no interface code.' },
];
const onlyInViewport = {
  regex: '^(three|@react-three/fiber|three-mesh-bvh|three-stdlib)(/|$)',
  message: 'three lives in renderer/viewport and renderer/worker only.',
};

export default tseslint.config(
  { ignores: ['dist/', 'release/', 'coverage/', 'node_modules/'] },
  ...tseslint.configs.recommended,
  {
    rules: {
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-imports': 'error',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'error',
    },
  },
  {
    files: ['core/**/*.ts'],
    rules: {
      ...forbid(coreImports),
      'no-restricted-globals': [
        'error',
        ...[
          'window',
          'document',
          'globalThis',
          'self',
          'process',
          'Buffer',
          'fetch',
          'console',
          'performance',
        ],
        ...[
          'setTimeout',
          'setInterval',
          'queueMicrotask',
          'crypto',
          'TextDecoder',
          'TextEncoder',
          'navigator',
        ],
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'core has no randomness: take a seed or an id.' },
        { object: 'Date', property: 'now', message: 'core has no clock: take the time as an argument.' },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'core has no clock.' },
      ],
    },
  },
  {
    files: ['renderer/**/*.{ts,tsx}'],
    plugins: { 'react-hooks': reactHooks },
    rules: {
      ...reactHooks.configs.recommended.rules,
      ...forbid([...rendererImports, onlyInViewport]),
    },
  },
  {
    files: ['renderer/viewport/**/*.{ts,tsx}', 'renderer/worker/**/*.ts'],
    rules: forbid(rendererImports),
  },
  { files: ['main/**/*.ts'], rules: forbid(mainImports) },
  {
    files: ['main/{start,tankside,main,draw-demo}.ts', 'main/terminal/**/*.ts', 'tests/bench/**/*.ts'],
    rules: { 'no-console': 'off' },
  },
);
