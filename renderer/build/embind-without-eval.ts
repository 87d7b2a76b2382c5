import type { Plugin } from 'vite';

/**
 * The CAD kernel's JavaScript half (Emscripten's embind) builds its calling functions out of text with `new Function`,
 * which the page's content policy forbids. These are the same functions as closures, put in while the page is built;
 * the WebAssembly is untouched. The places are found by their exact text, in the one version that is installed: with
 * another version the build stops here.
 */
interface Replacement {
  readonly what: string;
  readonly from: string;
  readonly to: string;
}

const REPLACEMENTS: readonly Replacement[] = [
  {
    // In: b the types (result, this, arguments), c whether there is a result, d the functions by the order in which
    // embind lists them, e the number of arguments, k whether it is a method, m whether destructors are stacked.
    what: 'calls from JavaScript into the kernel',
    from: String.raw`c&&(n+="var ret = fromRetWire(rv);\nreturn ret;\n");b=(new Function(q,n+"}\n"))(...d);return Yb(a,b)}`,
    to: `b=((types,hasResult,parts,count,isMethod,stacked)=>{
const [,,invoker,fn,runDestructors,fromWire,thisToWire]=parts;
const toWire=parts.slice(7,7+count);
const own=[];
if(!stacked)for(let i=isMethod?1:2;i<types.length;++i)if(types[i].mb!==null)own.push([i===1?1:i-1+(isMethod?1:0),types[i].mb]);
return function(...given){
const destructors=stacked?[]:null;
const wired=[fn];
if(isMethod)wired.push(thisToWire(destructors,this));
for(let i=0;i<count;++i)wired.push(toWire[i](destructors,given[i]));
const result=invoker(...wired);
if(stacked)runDestructors(destructors);
else for(const [at,destroy] of own)destroy(wired[at]);
if(hasResult)return fromWire(result);
}})(b,c,d,e,k,m);return Yb(a,b)}`,
  },
  {
    // In: c the kind of call, d the result's type, f readers of the arguments, b the result's writer.
    what: 'calls from the kernel into JavaScript',
    from: 'c=(new Function(Object.keys(h),k))(...Object.values(h));',
    to: `c=((kind,isVoid,readers,toWire,returnValue,toValue,toName)=>function(handle,methodName,destructorsRef,args){
const given=readers.map((read,i)=>read(args+8*i));
const value=kind===0?toValue(handle)(...given):kind===1?toValue(handle)[toName(methodName)](...given):kind===2?new (toValue(handle))(...given):given.at(-1);
if(!isVoid)return returnValue(toWire,destructorsRef,value);
})(c,d.uc,f,b,cd,Z,ed);`,
  },
  {
    what: 'the switch to Node, which a page never is',
    from: 'ca=globalThis.process?.versions?.node&&"renderer"!=globalThis.process?.type;',
    to: 'ca=false;',
  },
  {
    what: "the import of Node's modules, which a page has not",
    from: 'if(ca){const {createRequire:a}=await import("node:module");var require=a(import.meta.url)}',
    to: 'var require;',
  },
];

/** `code` without text that is run as code. Throws where a place is not found exactly once, or one is left. */
export function withoutEval(code: string): string {
  let out = code;
  for (const { what, from, to } of REPLACEMENTS) {
    if (out.split(from).length !== 2) {
      throw new Error(`replicad-opencascadejs has changed: look again at ${what} in embind-without-eval.ts`);
    }
    out = out.replace(from, () => to);
  }
  if (/\bnew Function\b|\beval\(/.test(out)) {
    throw new Error('replicad-opencascadejs still runs text as code: see embind-without-eval.ts');
  }
  return out;
}

export function embindWithoutEval(): Plugin {
  return {
    name: 'embind-without-eval',
    enforce: 'pre',
    transform(code, id) {
      return /replicad-opencascadejs[\\/]dist[\\/]replicad_single\.js/.test(id)
        ? { code: withoutEval(code), map: null }
        : null;
    },
  };
}
