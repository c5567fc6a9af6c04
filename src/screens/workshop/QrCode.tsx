import { useEffect, useState } from 'react';
import { useText } from '../text/text.ts';

/** A text as a QR code. What draws it is loaded when it is used. */
export function QrCode({ text, label }: { text: string; label: string }) {
  const t = useText();
  const [svg, setSvg] = useState<string | null>(null);
  useEffect(() => {
    let still = true;
    void import('qrcode')
      .then(({ default: qr }) => qr.toString(text, { type: 'svg', errorCorrectionLevel: 'L' }))
      .then((drawn) => {
        if (still) setSvg(drawn);
      });
    return () => {
      still = false;
    };
  }, [text]);
  return svg === null ? (
    <p role="status">{t('shop-code-drawing')}</p>
  ) : (
    <img className="qr" alt={label} src={`data:image/svg+xml,${encodeURIComponent(svg)}`} />
  );
}
