/** What those who host it get: the package, the image's recipe, the compose file and the service files. */
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import { builtinModules } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { parseSync } from 'oxc-parser';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { postgresPrograms, startPostgres } from './postgres-server.ts';
import { PROGRAM, ROOT } from './program.ts';

const read = (file: string) => fs.readFileSync(path.join(ROOT, file), 'utf8');
const isBuilt = !PROGRAM.includes('tsx');

describe('the files for hosting', () => {
  const dockerfile = read('deploy/Dockerfile');
  const compose = read('deploy/compose.yaml');
  const services = ['server', 'worker@'].map((name) => read(`deploy/retentate-${name}.service`));

  it('name the program where the build puts it, and copy what there is', () => {
    const { bin, scripts } = JSON.parse(read('package.json'));
    expect(dockerfile).toContain(`ENTRYPOINT ["node", "${bin.retentate}"]`);
    expect(dockerfile).toContain('npm run build');
    expect(scripts.build).toContain('tsc -b');
    const copied = [...dockerfile.matchAll(/^COPY (?!--from)(.+) \S+$/gm)].flatMap((line) =>
      line[1]!.split(' '),
    );
    expect(copied.length).toBeGreaterThan(2);
    for (const one of copied) expect(fs.existsSync(path.join(ROOT, one)), one).toBe(true);
    for (const [, mounted] of compose.matchAll(/- \.\/(\S+?):/g)) {
      // keys.json is made from the example by whoever hosts.
      expect(fs.existsSync(path.join(ROOT, 'deploy', mounted!.replace('.json', '.example.json')))).toBe(true);
    }
  });

  it('use verbs and options that the program has, and names that it reads', () => {
    const verbs = [
      ...[...compose.matchAll(/command:\s*\[([^\]]+)\]/g)].map((m) => JSON.parse(`[${m[1]}]`) as string[]),
      ...services.map((text) => /^ExecStart=\/usr\/bin\/env retentate (.+)$/m.exec(text)![1]!.split(' ')),
    ];
    expect(verbs.map(([verb]) => verb)).toEqual(['serve', 'work', 'serve', 'work']);
    for (const [verb, ...options] of verbs) {
      const help = spawnSync(process.execPath, [...PROGRAM, verb!, '--help'], {
        cwd: ROOT,
        encoding: 'utf8',
      });
      for (const option of options.filter((word) => word.startsWith('--'))) {
        expect(help.stdout, `${verb} ${option}`).toContain(`${option} `);
      }
    }
    const source = ['src/cli/group.ts', 'src/store/group/open-originals.ts'].map(read).join('\n');
    const names = new Set(
      [compose, ...services].flatMap((text) => text.match(/\b(RETENTATE|S3)_[A-Z_]+\b/g) ?? []),
    );
    expect(names.size).toBeGreaterThan(4);
    for (const name of names) expect(source, name).toContain(name);
  });

  it('are service files to systemd, where it is there to ask', (test) => {
    for (const name of ['retentate-server.service', 'retentate-worker@.service']) {
      const asked = spawnSync('systemd-analyze', ['verify', path.join(ROOT, 'deploy', name)], {
        encoding: 'utf8',
      });
      if (asked.error) return test.skip('systemd-analyze is not on this machine');
      const own = asked.stderr.split('\n').filter((line) => line.includes('retentate'));
      expect(own, name).toEqual([]);
    }
  });
});

describe.skipIf(!isBuilt)('the package', () => {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-package-'));
  let files: string[] = [];
  beforeAll(() => {
    const packed = execFileSync('npm', ['pack', '--json', '--pack-destination', home], {
      cwd: ROOT,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    const [{ filename, files: listed }] = JSON.parse(packed);
    files = listed.map((one: { path: string }) => one.path);
    execFileSync('tar', ['-xzf', path.join(home, filename), '-C', home]);
    fs.symlinkSync(
      fs.realpathSync(path.join(ROOT, 'node_modules')),
      path.join(home, 'package', 'node_modules'),
    );
  });
  afterAll(() => fs.rmSync(home, { recursive: true, force: true }));

  it('carries program, screens and documents, and none of the build’s own notes', () => {
    for (const one of ['dist/src/main/retentate.js', 'dist/web/index.html', 'docs/groups.md', 'LICENSE']) {
      expect(files).toContain(one);
    }
    expect(files.filter((file) => file.startsWith('dist/.'))).toEqual([]);
  });

  it('imports nothing that is not installed with it', () => {
    const { dependencies } = JSON.parse(read('package.json'));
    const known = new Set([...Object.keys(dependencies), ...builtinModules]);
    const strangers = new Set<string>();
    for (const file of files.filter(
      (one) => /^dist\/(src|demo)\/.*\.js$/.test(one) && !one.startsWith('dist/src/web/'),
    )) {
      const { module } = parseSync(file, fs.readFileSync(path.join(home, 'package', file), 'utf8'));
      for (const { moduleRequest } of module.staticImports) {
        const from = moduleRequest.value;
        if (from.startsWith('.') || from.startsWith('node:')) continue;
        const name = from
          .split('/')
          .slice(0, from.startsWith('@') ? 2 : 1)
          .join('/');
        if (!known.has(name)) strangers.add(`${file}: ${name}`);
      }
    }
    expect([...strangers]).toEqual([]);
  });

  it.skipIf(postgresPrograms() === null)('serves a group from where it was unpacked', async () => {
    const postgres = await startPostgres();
    const entry = path.join(home, 'package', 'dist/src/main/retentate.js');
    const place = ['--database', postgres.database('packed'), '--originals', path.join(home, 'originals')];
    const words = ['serve', ...place, '--cache', path.join(home, 'cache'), '--port', '0', '--json'];
    const server = spawn(process.execPath, [entry, ...words], {
      cwd: home,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    try {
      const line = await new Promise<string>((resolve) =>
        server.stdout.once('data', (part) => resolve(String(part))),
      );
      const { address } = JSON.parse(line);
      const page = await fetch(address);
      expect([page.status, await page.text()]).toEqual([200, expect.stringContaining('<title>')]);
      expect((await fetch(`${address}/api/me`)).status).toBe(200);
    } finally {
      server.kill('SIGKILL');
      await postgres.stop();
    }
  });
});
