/**
 * A file's name as it may be printed: on one line, control and direction characters written out, never longer than a line.
 * Names come from outside and may hold anything a file system allows.
 */
export function shownName(name: string): string {
  const plain = name.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, (c) => {
    if (c === '\n') return '\\n';
    if (c === '\t') return '\\t';
    return `\\u{${c.codePointAt(0)!.toString(16)}}`;
  });
  const short = plain.length > 120 ? `${plain.slice(0, 60)}…${plain.slice(-50)}` : plain;
  return `“${short}”`;
}
