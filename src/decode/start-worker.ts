import { Worker } from 'node:worker_threads';

/** Small objects are collected more often, in little room: a crew's threads would otherwise hold tens of megabytes each. */
const resourceLimits = { maxYoungGenerationSizeMb: 12 };

/**
 * Starts a worker that lies beside the file `of` (its import.meta.url; this room's where left out). Compiled, it runs plain;
 * in source, the loader for TypeScript is registered inside it first.
 */
export function startWorker(name: string, of: string = import.meta.url): Worker {
  const source = of.endsWith('.ts');
  const script = new URL(`./${name}.${source ? 'ts' : 'js'}`, of);
  if (!source) return new Worker(script, { resourceLimits });
  const loader = JSON.stringify(import.meta.resolve('tsx/esm/api'));
  const code = `import(${loader}).then((tsx) => { tsx.register(); return import(${JSON.stringify(script.href)}); });`;
  return new Worker(code, { eval: true, resourceLimits });
}
