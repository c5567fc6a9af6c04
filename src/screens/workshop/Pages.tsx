import { useHouse } from '../parts/house.ts';
import { useText } from '../text/text.ts';
import { Code } from './Code.tsx';
import { Edit } from './Edit.tsx';
import { Offer } from './Offer.tsx';
import { Shelf } from './Shelf.tsx';
import './workshop.css';

/** The workshop: the shelf of catalogues, a draft, and what came from elsewhere. */
export default function Pages({ page, id }: { page: string | undefined; id: string | undefined }) {
  const t = useText();
  const shop = useHouse().workshop;
  if (shop === undefined) return <p role="alert">{t('shop-none')}</p>;
  if (page === 'draft' && id !== undefined) return <Edit key={id} shop={shop} id={id} />;
  if (page === 'offer') return <Offer shop={shop} />;
  if (page === 'code' && id !== undefined) return <Code shop={shop} code={id} />;
  return <Shelf shop={shop} />;
}
