import type { Plugin } from 'vite';

/** manifold-3d looks whether it runs in Node and would then ask for Node's modules; a page never is, and has none. */
const FROM =
  /var ENVIRONMENT_IS_NODE=globalThis[^;]*;if\(ENVIRONMENT_IS_NODE\)\{[^{}]*\{createRequire\}[^{}]*\}/;
const NODE_MODULE = /require\("node:[a-z]+"\)/g;

export function manifoldWithoutNode(): Plugin {
  return {
    name: 'manifold-without-node',
    enforce: 'pre',
    transform(code, id) {
      if (!/manifold-3d[\\/]manifold\.js/.test(id)) return null;
      if (!FROM.test(code)) {
        throw new Error('manifold-3d has changed: look again at manifold-without-node.ts');
      }
      const paged = code.replace(FROM, 'var ENVIRONMENT_IS_NODE=false;').replace(NODE_MODULE, 'undefined');
      return { code: paged, map: null };
    },
  };
}
