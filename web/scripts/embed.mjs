// Writes the built pages as an assembler file and a C++ table (see cmake/PropwrightWeb.cmake).
// node scripts/embed.mjs DIST OUT
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, extname, join, relative, sep } from 'node:path';
import { gzipSync } from 'node:zlib';

const [dist, out] = process.argv.slice(2);
if (!dist || !out) throw new Error('node scripts/embed.mjs DIST OUT');

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.woff2': 'font/woff2',
};

function files_under(folder) {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? files_under(path) : [path];
  });
}

const zipped = join(out, 'gzip');
rmSync(zipped, { recursive: true, force: true });

const files = files_under(dist)
  .map((source) => {
    const path = '/' + relative(dist, source).split(sep).join('/');
    const type = types[extname(source)];
    if (!type) throw new Error(`embed.mjs knows no content type for ${path}`);
    const bytes = readFileSync(source);
    const small = gzipSync(bytes, { level: 9 });
    let gzip = null;
    if (small.length < bytes.length * 0.95) {
      gzip = join(zipped, path.slice(1) + '.gz');
      mkdirSync(dirname(gzip), { recursive: true });
      writeFileSync(gzip, small);
    }
    return { path, source, gzip, type, hashed: path.startsWith('/assets/') };
  })
  .sort((a, b) => (a.path < b.path ? -1 : 1));

let assembly = '    .section .rodata\n';
let declarations = '';
let rows = '';
files.forEach((file, index) => {
  const include = (symbol, path) => {
    assembly += `    .balign 16\n    .global ${symbol}_begin\n${symbol}_begin:\n    .incbin "${path}"\n`;
    assembly += `    .global ${symbol}_end\n${symbol}_end:\n    .byte 0\n`;
    declarations += `extern const char ${symbol}_begin[];\nextern const char ${symbol}_end[];\n`;
    return `view(${symbol}_begin, ${symbol}_end)`;
  };
  const bytes = include(`propwright_web_${index}`, file.source);
  const gzip = file.gzip ? include(`propwright_web_${index}_gzip`, file.gzip) : '{}';
  rows += `      {"${file.path}", ${bytes}, ${gzip},\n       "${file.type}", ${file.hashed}},\n`;
});
assembly += '    .section .note.GNU-stack,"",@progbits\n';

const table = `#include "web_files.h"

extern "C" {
${declarations}}

namespace propwright::web {
namespace {
std::string_view view(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}
}  // namespace

std::span<const File> files() {
  static const File table[] = {
${rows}  };
  return table;
}

}  // namespace propwright::web
`;
writeFileSync(join(out, 'web_files.S'), assembly);
writeFileSync(join(out, 'web_files.cpp'), table);
