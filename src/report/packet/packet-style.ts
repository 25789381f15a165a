/** Look of the packet: the picture large, the answers large, light and dark. */
export const PACKET_STYLE = `
:root{color-scheme:light dark;--paper:#fbfcfa;--ink:#1b2427;--soft:#48565a;--rule:#cdd5cf;--accent:#0a5a68;--on:#fff;--band:#f0e3c2}
@media (prefers-color-scheme:dark){:root{--paper:#141a1c;--ink:#e9eeea;--soft:#aebab8;--rule:#3a4649;--accent:#84ccd2;--on:#0d2226;--band:#463a1c}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:46rem;padding:1rem;background:var(--paper);color:var(--ink);font:1.05rem/1.5 system-ui,sans-serif}
h1{font:600 1.7rem/1.2 Georgia,serif;margin:.2rem 0}
.invented{background:var(--band);padding:.5rem .8rem}
figure{margin:0 0 1rem;position:relative}
img{display:block;width:100%;max-height:56vh;object-fit:contain;background:#e4e6e2}
figcaption{margin-top:.4rem;color:var(--soft);font-variant-numeric:tabular-nums}
figcaption i{display:inline-block;height:6px;background:var(--ink);vertical-align:middle}
fieldset{border:0;padding:0;margin:0 0 1rem;display:flex;flex-wrap:wrap;gap:.6rem}
legend{font-weight:600;margin-bottom:.4rem}
.choice{flex:1 1 9rem;cursor:pointer}
.choice input{position:absolute;opacity:0}
.choice span{display:block;padding:.8rem;border:2px solid var(--rule);border-radius:5px;text-align:center;font-weight:600}
.choice input:checked+span{background:var(--accent);border-color:var(--accent);color:var(--on)}
.choice input:focus-visible+span{outline:3px solid var(--accent);outline-offset:2px}
kbd{font:inherit;font-weight:400;opacity:.7}
nav{display:flex;justify-content:space-between;align-items:center;gap:1rem;margin-block:1rem}
button{font:inherit;font-weight:600;padding:.7rem 1.1rem;border:2px solid var(--accent);border-radius:5px;background:var(--paper);color:var(--accent);min-height:2.75rem}
button:disabled{opacity:.4}
textarea{width:100%;font:.85rem/1.4 ui-monospace,Consolas,monospace;background:var(--paper);color:var(--ink);border:1px solid var(--rule)}
code{overflow-wrap:anywhere}
[hidden]{display:none}
`;
