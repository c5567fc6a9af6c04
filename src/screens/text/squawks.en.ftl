# Squawks: the list of an aircraft, the life of one, and one reported without a walk.

squawks-none-known = No aircraft is known on this device yet. { $report } or { $begin }.
squawks-report = Report a squawk
squawks-begin = begin a walk
squawks-opening = Opening the squawks …
squawks-new = New squawk
squawks-list = Discrepancy list
squawks-answers = Bring in the workshop’s answers (CSV)
squawks-none = No squawk is kept for { $aircraft }.
squawks-run-out = Run out
squawks-open = Open
squawks-deferred = Deferred
squawks-rectified = Rectified, to be rechecked and closed
squawks-closed = Closed or withdrawn
squawks-trends = Measured over time
squawks-drawing = Drawing …
squawks-foot = This list is no maintenance release. 14 CFR 43.9 says what a maintenance entry holds, 14 CFR 91.213 which item may stay inoperative; local rules decide.

## A mechanic’s file

answers-which = Which day is “{ $written }” in { $file }?
answers-first = Nothing is taken before that is known.
answers-leave-file = Leave the file
answers-not-yet = Not taken yet from { $file }
answers-take = Take them as they stand
answers-leave = Leave them

## Two that may be one

same-ask = One fault? { $one } and { $other }.
same-title = “{ $title }”
same-title-of = “{ $title }” of { $day }
same-join = Join them

## One squawk

squawk-state-open = open
squawk-state-deferred = deferred
squawk-state-rectified = rectified, not rechecked
squawk-state-rechecked = rechecked, not closed
squawk-state-closed = closed
squawk-state-joined = joined with another
squawk-state-withdrawn = withdrawn
squawk-no-severity = severity not said
squawk-severity-from = { $severity }, { $from }
squawk-rated-before = as the reporter rated it before
squawk-at = at { $hours } h
squawk-said = As said: { $words }
squawk-irregular = Irregular
squawk-next = Next for { $title }
jasc-none = No JASC code is proposed.
jasc-confirmed = JASC { $code }, confirmed.
jasc-confirmed-named = JASC { $code }, { $name }, confirmed.
jasc-proposed = Proposed JASC codes
jasc-confirm = Confirm { $code } { $name }

## The next step

step-deferred = Defer
step-rectified = Rectified
step-rechecked = Recheck
step-closed = Close
step-corrected = Correct
step-noted = Add to it
step-withdrawn = Withdraw
step-record = Record it
step-optional = { $field } (may be left out)
step-deferred-by = Deferred by
step-authority = On what authority
step-until-date = Until the date
step-until-hours = Until aircraft hours
step-until-flights = For so many flights
step-limits = Limits and note
step-placarded = Placarded “Inoperative” (14 CFR 91.213(d))
step-rectified-by = Rectified by
step-certificate-kind = Kind of certificate
step-certificate = Certificate number
step-reference = Reference to the work
step-date = Date
step-rechecked-by = Rechecked by
step-found = What was found
step-words = What is wrong, in full
step-corrected-by = Corrected by
step-why = Why
step-note = What is to be added
step-noted-by = Added by
step-reason = Why it is withdrawn
step-withdrawn-by = Withdrawn by
step-closed-by = Closed by
step-closed-note = Note
outcome-gone = gone
outcome-still-there = still there
outcome-worse = worse

## What became of it, a line each

stepped-by = { $what } by { $name }
stepped-opened = Opened
stepped-found = { $what }, found { $found }
stepped-legacy = { $what }, older than this list
stepped-amended = Said again
stepped-compared = { $what }: { $compared ->
    [same] same
    [worse] worse
   *[better] better
}
stepped-severity = { $what }, { $severity }
stepped-jasc = JASC { $code } confirmed
stepped-deferred = Deferred
stepped-authority = { $what } on the authority of { $authority }
stepped-no-end = { $what }, without an end
stepped-until = { $what } until { $ends }
stepped-or = { $one } or { $other }
stepped-hours = { $hours } h
stepped-flights = { $n } flights
stepped-placarded = { $what }, placarded
stepped-note = { $what }. { $note }
stepped-rectified = Rectified
stepped-work = { $what }, { $kind } { $certificate }, { $reference }, { $date }
stepped-rechecked = Rechecked
stepped-told = { $what }: { $told }
stepped-corrected = Corrected
stepped-to = { $what } to “{ $words }”
stepped-noted = Added
stepped-withdrawn = Withdrawn
stepped-closed = Closed
stepped-joined = Joined with another

## A value over time

trend-label = { $name }: { $values }. { $text }
trend-value = { $value } on { $day }
trend-limit = limit { $value }

## Reported without a walk

quick-title = Squawk
quick-how = Say the part, its side, what is wrong and how bad: “left main tyre, flat spot with cords showing, ground it”.
quick-which = Which catalogue has { $aircraft }?
quick-which-why = It is new here. A squawk is read with its own catalogue only; this is asked once, and nothing of what you said is lost.
quick-no-catalogue = None of these
quick-words = In your own words
quick-file = File it
quick-filed = Filed: { $title }
quick-filed-as = Filed as { $n } squawks.
quick-unplaced = Kept as said: { $words }
quick-another = Another
quick-all = All of { $aircraft }
quick-dictate = Dictate
quick-starting = Starting …
quick-file-said = File what I said
quick-say = Say it
