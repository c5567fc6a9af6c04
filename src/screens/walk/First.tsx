import { useLocation } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { PRACTICE, type WalkView } from '../services.ts';
import { useText } from '../text/text.ts';
import { exampleAt } from './example.ts';

/** Three sentences: where one stands, what one finds, and how it is made to stop counting. */
const SENTENCES = 3;

/**
 * The first use: a walk on the real screen, one sentence after the other, each
 * asked for until it was understood. It can be left at any time; the walk is then
 * discarded, so that it makes no aircraft known and counts for nothing.
 */
export function First({ walk }: { walk: WalkView }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  if (walk.aircraft !== PRACTICE) return null;
  const done = sentencesDone(walk);
  const over = done === SENTENCES;
  const leave = () => void house.discard(walk.id, t('first-use')).then((o) => tell(o) && go('/'));
  return (
    <section className="first-use" aria-label={t('first-use')}>
      <div>
        <p className="first-step">
          {over ? t('first-over') : t('first-step', { step: done + 1, of: SENTENCES })}
        </p>
        {/* Always there, so that a screen reader tells each next sentence. */}
        <p className="first-say" role="status">
          {over ? '' : sentenceFor(done, walk, t)}
        </p>
      </div>
      <button type="button" className={over ? 'press main' : 'press'} onClick={leave}>
        {t(over ? 'first-go' : 'first-skip')}
      </button>
    </section>
  );
}

/** How many of the three were understood, by what the walk shows of them. */
export function sentencesDone({ coverage, station }: WalkView): number {
  if (station === null) return 0;
  if (!coverage.checks.some((c) => c.statements.length > 0)) return 1;
  return coverage.held ? SENTENCES : 2;
}

function sentenceFor(done: number, walk: WalkView, t: ReturnType<typeof useText>): string {
  const example = exampleAt(walk.catalogue, walk.coverage);
  if (done === 0) return t('first-where', { station: example?.station ?? '' });
  return done === 1 ? t('first-what', { check: example?.check ?? '' }) : t('first-hold');
}
