import { editionTold, ended } from '#report';
import type { Catalogue } from '#shared/catalogue';
import { useText } from '../text/text.ts';

/** At a sheet's foot: the edition that was walked, its sources and its licence, in words. */
export function Foot({ catalogue, edition }: { catalogue: Catalogue; edition: string | null }) {
  const t = useText();
  const told = editionTold(catalogue, edition);
  const { change } = told;
  const counted =
    told.version === null
      ? 'none'
      : change === null
        ? t('shop-foot-version', { version: told.version })
        : t('shop-foot-version-of', { version: told.version, on: change.on, by: change.by });
  const lines = [
    ...(told.source === null ? [] : [t('shop-foot-source', { source: ended(told.source) })]),
    ...(told.sources.length === 0
      ? []
      : [
          t('shop-foot-sources', {
            sources: told.sources.join('; '),
            more: told.more,
          }),
        ]),
    ...(told.licence === null ? [] : [t('shop-foot-licence', { licence: ended(told.licence) })]),
  ];
  return (
    <>
      <p className="small quiet edition-words">
        {t('shop-foot-catalogue', {
          name: told.name,
          version: counted,
          edition: told.edition ?? t('shop-foot-unknown'),
        })}
      </p>
      {lines.map((line) => (
        <p key={line} className="small quiet">
          {line}
        </p>
      ))}
    </>
  );
}
