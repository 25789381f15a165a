import { toString as qrSvg } from 'qrcode';
import { useEffect, useState } from 'react';

/** The code as a square; black on white whatever the page looks like, because cameras read it so. */
export function QrSquare({ code, what = 'Code' }: { code: string; what?: string }) {
  const [svg, setSvg] = useState('');
  useEffect(() => {
    let here = true;
    void qrSvg(code, { type: 'svg', margin: 2, errorCorrectionLevel: 'M' }).then((made) => {
      if (here) setSvg(made);
    });
    return () => {
      here = false;
    };
  }, [code]);
  return (
    <span
      className="qr"
      role="img"
      aria-label={`${what} ${code}`}
      // biome-ignore lint/security/noDangerouslySetInnerHtml: drawn by the library from the code alone.
      dangerouslySetInnerHTML={{ __html: svg }}
    />
  );
}
