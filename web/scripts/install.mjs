// Installs the packages of package-lock.json, unless node_modules already holds exactly them.
// node scripts/install.mjs [path of npm]; run in web/.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';

const npm = process.argv[2] ?? 'npm';
const stamp = 'node_modules/.installed-from';
const wanted = createHash('sha256')
  .update(readFileSync('package-lock.json'))
  .update(process.versions.node.split('.')[0])
  .digest('hex');

if (!existsSync(stamp) || readFileSync(stamp, 'utf8') !== wanted) {
  const run = spawnSync(npm, ['ci', '--no-audit', '--no-fund', '--prefer-offline', '--loglevel=error'], {
    stdio: 'inherit',
  });
  if (run.status !== 0) {
    console.error('The packages of the pages could not be installed: npm ci in web/ failed.');
    process.exit(run.status ?? 1);
  }
  writeFileSync(stamp, wanted);
}
