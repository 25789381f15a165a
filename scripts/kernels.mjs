/**
 * Compiles the kernels of imaging (AssemblyScript) into `src/science/imaging/kernels/compiled.ts`. Run after a change to
 * their source; a test tells when the two no longer agree.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import asc from 'assemblyscript/asc';

const FOLDER = fileURLToPath(new URL('../src/science/imaging/kernels/', import.meta.url));

/** The text of `compiled.ts` as the source would give it now. */
export async function compiledText() {
  let binary = null;
  const { error, stderr } = await asc.main(
    [
      'index.ts',
      '-o',
      'kernels.wasm',
      '-O3',
      '--runtime',
      'stub',
      '--noAssert',
      '--enable',
      'simd',
      '--importMemory',
    ],
    {
      readFile: (name) => {
        try {
          return readFileSync(`${FOLDER}source/${name}`, 'utf8');
        } catch {
          return null;
        }
      },
      writeFile: (name, contents) => {
        if (name.endsWith('.wasm')) binary = contents;
      },
      listFiles: () => [],
    },
  );
  if (error) throw new Error(`${error.message}\n${stderr.toString()}`);
  const text = Buffer.from(binary).toString('base64');
  const lines = text.match(/.{1,100}/g).map((line) => `  '${line}',`);
  return `/** Made by scripts/kernels.mjs from source/; not edited by hand. WebAssembly, base64. */\nexport const COMPILED = [\n${lines.join('\n')}\n].join('');\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const text = await compiledText();
  writeFileSync(`${FOLDER}compiled.ts`, text);
  process.stdout.write(`compiled.ts: ${text.length} characters\n`);
}
