/** The look of a report: quiet on screen, the same on paper; no font, picture or rule is fetched from anywhere. */
export const STYLE = `
:root{--ink:#1b2427;--ink-soft:#48565a;--rule:#cdd5cf;--paper:#fff;--accent:#0a5a68;--accent-soft:#cfe5e4;--band:#f0e3c2;--band-edge:#775812;--warn:#97400a;--warn-soft:#f9e6d6}
@page{size:A4;margin:18mm 17mm 20mm;@bottom-right{content:counter(page) " / " counter(pages);font:9pt sans-serif;color:#48565a}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;print-color-adjust:exact;-webkit-print-color-adjust:exact}
body{margin:0 auto;max-width:48rem;padding:2.5rem 1.25rem 4rem;background:var(--paper);color:var(--ink);font:16px/1.5 "Segoe UI",Roboto,"Helvetica Neue",Arial,"Liberation Sans",sans-serif}
h1,h2,h3,.claim{font-family:"Iowan Old Style","Palatino Linotype",Palatino,Georgia,"DejaVu Serif","Liberation Serif",serif;line-height:1.2;text-wrap:balance}
h1{font-size:2.1rem;margin:0 0 .3rem}
h2{font-size:1.45rem;margin:2.6rem 0 .6rem;padding-top:.7rem;border-top:2px solid var(--ink);break-after:avoid}
h3{font-size:1.05rem;margin:1.5rem 0 .4rem;break-after:avoid}
p,ul,ol{margin:.5rem 0;max-width:42rem}
li{margin:.2rem 0}
figure svg{overflow:visible}
.lead,h3+p{break-after:avoid;break-inside:avoid}
p{orphans:3;widows:3}
.subtitle,.lead,figcaption,caption,.made{color:var(--ink-soft)}
.remark{padding:.6rem .9rem;background:var(--band);border-left:4px solid var(--band-edge);font-weight:600}
.claim{margin:1rem 0 1.4rem;font-size:1.6rem;line-height:1.3}
nav ol{columns:2;font-size:.95rem}
a{color:var(--accent)}
.facts{display:grid;grid-template-columns:repeat(auto-fill,minmax(13rem,1fr));gap:.9rem 1.6rem;margin:1rem 0}
.facts div{break-inside:avoid}
.facts dt{font-size:.85rem;color:var(--ink-soft)}
.facts dd{margin:0;font-size:1.05rem;font-variant-numeric:tabular-nums;overflow-wrap:anywhere}
.facts small{display:block;color:var(--ink-soft);font-size:.85rem}
figure{margin:1.1rem 0;break-inside:avoid}
figure svg,.disc svg{max-width:100%;height:auto}
figcaption,caption{font-size:.88rem;line-height:1.4}
.table{overflow-x:auto;margin:1.1rem 0}
table{border-collapse:collapse;font-size:.86rem;width:100%}
caption{text-align:left;caption-side:bottom;padding-top:.4rem}
th{text-align:left;border-bottom:1.5px solid var(--ink);vertical-align:bottom}
th,td{padding:.28rem .5rem .28rem 0}
td{border-bottom:1px solid var(--rule);vertical-align:top}
.n{text-align:right;font-variant-numeric:tabular-nums;padding-right:.9rem;white-space:nowrap}
.none{color:var(--ink-soft);font-style:italic}
tr{break-inside:avoid}
.t,td:first-child{white-space:nowrap}
td.w,td.w:first-child{white-space:normal;min-width:9.5rem}
.state{white-space:nowrap;font-weight:600}
.table.many{font-size:.92em}.table.many table{font-size:.78rem}.table.many th,.table.many td{padding-right:.35rem}.table.many .n{padding-right:.5rem}.table.many td:first-child{white-space:normal}
thead{display:table-header-group}
.discs{display:grid;grid-template-columns:repeat(auto-fill,minmax(8.6rem,1fr));gap:1.1rem}
.disc{margin:0;text-align:center}
.pieces{display:grid;grid-template-columns:repeat(auto-fill,minmax(9rem,1fr));gap:1rem;margin:1.1rem 0}
.piece{margin:0}
.piece .shown{position:relative;display:block}
.piece img{display:block;width:100%;aspect-ratio:1;object-fit:cover;background:var(--rule)}
.piece .bar{position:absolute;left:6%;bottom:6%;color:#fff;font-size:.75rem;line-height:1.25;white-space:nowrap;text-shadow:0 0 3px #000,0 0 3px #000,0 0 2px #000}
.piece .bar::after{content:"";display:block;height:5px;background:#fff;border:1px solid #000}
.cautions{padding:.7rem 1rem .7rem 1.2rem;border-left:4px solid var(--warn);background:var(--warn-soft);break-inside:avoid}
.cautions ul{padding-left:1.1rem}
.recount{margin:1.5rem 0;padding:1rem 1.2rem;border:1.5px solid var(--accent);border-radius:5px}
.recount h3{margin-top:0}
.recount select,.recount button{font:inherit;min-height:2.2rem;padding:.15rem .5rem;border:1.5px solid var(--ink-soft);border-radius:4px;background:#fff;color:inherit}
.recount .moved{font-size:1.1rem;font-weight:600}
.recount .list{display:grid;grid-template-columns:repeat(auto-fill,minmax(12.5rem,1fr));gap:.7rem;max-height:26rem;overflow:auto;margin-top:.8rem}
.recount .one{display:grid;grid-template-columns:3.4rem 1fr;gap:.3rem .6rem;align-items:center;font-size:.85rem}
.recount .one img,.recount .one .blank{width:3.4rem;height:3.4rem;object-fit:cover;background:var(--rule);grid-row:span 2}
.recount .changed{outline:2px solid var(--accent);outline-offset:3px}
.made{break-before:avoid;margin-top:3rem;font-size:.85rem;border-top:1px solid var(--rule);padding-top:.8rem;overflow-wrap:anywhere}
@media print{body{max-width:none;padding:0;font-size:10.2pt}nav,.recount{display:none}h2{margin-top:1.7rem}.claim{font-size:1.45rem}a{color:inherit;text-decoration:none}.table{overflow:visible}table{font-size:8.4pt}.discs{grid-template-columns:repeat(5,1fr)}.pieces{grid-template-columns:repeat(5,1fr)}}
`;
