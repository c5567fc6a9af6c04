# What the ear, the record and the device say, as they say it: they speak English, and
# so do the record and the voice. A screen in another language shows the sentence that
# the other file has under the same id. tests/screens/house.test.ts finds one that lacks.

mic-denied = The microphone is not allowed. Allow it for this page in the browser, then start again.
mic-insecure = The browser allows no microphone on this page. Open it over HTTPS.
mic-none = There is no microphone. Plug one in; listening begins by itself.
mic-busy = The microphone is busy. Close the app that uses it, or end the call.
mic-shut = The microphone could not be opened. Unplug it and plug it in again.
mic-page = This page cannot use a microphone. Open it over HTTPS, or type the words.
mic-silent = The microphone is silent: a call, or another app, has it.
mic-back = The microphone is back.
mic-failed = The microphone could not be opened.
mic-gone = The microphone is gone: unplugged or withdrawn. Plug it in or allow it again.
mic-no-sound = The browser lets no sound through yet. Touch the screen and start again.
mic-no-way = This browser cannot pass the sound of the microphone on.
mic-no-answer = No microphone answers. Plug one in, or close the app that uses it.
mic-nothing = There is no microphone to listen to.
mic-ask = Allow the microphone when the browser asks.

sound-none = This browser keeps no sound; the words alone are kept.
sound-not-recorded = The sound could not be recorded; the words alone are kept.
sound-not-written = The sound could not be written; the words alone are kept from here on.
sound-broke-off = The recording broke off; the words alone are kept from here on.
sound-no-begin = The begin of this recording is missing; it cannot be played.
sound-no-slice = A slice of this recording is missing; it plays up to there.
sound-not-kept = No sound is kept.

page-hidden = The page is not in front; nothing is being heard.
page-call = A call or another app has the microphone; the walk is held.
page-mic-gone = The microphone is gone; the walk is held. Plug it in or allow it again.
page-back = Back again. Say resume to go on.
page-free = The microphone is free again. Say resume to go on.
page-mic-back = The microphone is back. Say resume to go on.

browser-refuses = This browser does not let the page use its speech service.
browser-offline = The browser's speech service cannot be reached.
browser-language = The browser's recogniser does not have this language.
browser-broke-off = The browser's recogniser broke off; "{ $words }" was taken as far as it got.
browser-stopped = The browser's recogniser stopped with "{ $why }".
browser-taken = Another page or app keeps taking the recogniser. Close it, then start again.
browser-empty = The browser's recogniser ends again and again without listening.
browser-no-words = Something was said, and the browser made no words of it.
browser-starting = The browser's recogniser is starting.
browser-none = This browser has no recogniser of its own.
browser-closed = The browser's recogniser is closed.
browser-listens-here = Listening with the browser's recogniser on this device.
browser-listens-away = Listening with the browser's speech service; the sound leaves this device.
browser-pack = The browser could recognise on this device after its language pack is installed; it is not.
browser-not-here = The browser cannot recognise on this device.
browser-untold = The browser does not say whether it recognises on this device, so it is not used.
browser-no-own = The browser has no recogniser on this device.
browser-no-service = This browser has no speech service.
browser-privacy = The browser's speech service sends the sound of your voice over the network to be recognised. The recording stays on this device.

own-held = Held. Nothing is being heard.
own-listens = Listening on this device.
own-stopped-again = The recogniser of this device stopped again and again: { $why }.
own-restarts = The recogniser stopped and is being started again; nothing is lost.
own-not-opened = The recogniser of this device cannot be opened: { $why }.
own-no-words = Something was said, and no words were made of it.
own-loading = The recogniser of this device is being loaded.
own-closed = The recogniser of this device is closed.
own-old = This browser is too old for the recogniser of this device.
own-no-files = The recogniser's files are not on this device yet.
own-no-answer = The recogniser did not answer.
own-stopped = The recogniser stopped: { $why }.
own-incomplete = The recogniser on this device is not complete: { $why }. Open the page once with a network, then it is kept.

ear-closed = Listening is closed.
ear-looking = Looking for what can listen here.
ear-other-tab = Another tab of Talkround is listening. Close it there, then start again here.
ear-setting = The setting was changed.
ear-none = Nothing can listen here: { $why } Words can be typed.
ear-nothing-else = Nothing else can listen; words can be typed.

record-not-promised = This browser has not promised to keep the record: it may delete it when space runs short, and some browsers do so after seven days without use. Install Talkround, or save a backup after the walk.
record-no-room = There is hardly any room left on this device. Free some space before the walk.
record-words-only = There is room for words but not for sound. The walk can be recorded in words.
record-minute = There is room for about one minute of sound. After that the walk goes on in words.
record-minutes = There is room for about { $minutes } minutes of sound. After that the walk goes on in words.
record-one-copy = This browser keeps only one copy of the record. After a crash it may throw it away: save a backup after the walk.
record-second-copy = The second copy of the record could not be written. What is said is on disk once: save a backup after the walk, then load this page again.
record-full = There is no room left on this device. Free some space, or save a backup and erase old sound.
record-full-sound = There is no room left for sound on this device. The walk goes on in words; free some space to record sound again.
record-full-pictures = There is no room left for pictures on this device. Free some space, then take it again; what was said is kept.
record-unkept-one = The last thing you said is not kept yet. Leave this page open and make room.
record-unkept = The last { $n } things you said are not kept yet. Leave this page open and make room.

copy-none = Talkround is not kept on this device: { $why }. It works now, but without this network it will not open here.
copy-never = This browser keeps no page for use without a network. Talkround works now, but without this network it will not open here.

reader-dictionary = The pronouncing dictionary could not be loaded; reload the page once with a network.
reader-scores = The scores of the reader are not there.
reader-none = What is said cannot be understood now: { $why } Results can be given by touch; reload the page once with a network.

walk-not-finished = The walk was not called finished.
walk-silent = Nothing was said for { $long }.
walk-late-station = { $station } was walked later than its turn; this catalogue asks for its order.
walk-late-check = { $check } was done later than its turn; { $station } asks for its order.
walk-too-soon = { $check } at { $station } was answered before anybody can have walked there from { $from }.
walk-too-fast = { $n } checks were answered in { $seconds } s, faster than they can be done.
walk-no-value = { $check } was answered without its value.
walk-no-state = { $check } was answered without saying how it is.
walk-held = Held at { $station }.
walk-held-half = Held at { $station } with { $open } of its { $all } checks to go.
walk-resumed = Taken up again at { $station }.
walk-still-open = { $n } of them are still open.
walk-not-resumed = It was not resumed.
walk-beginning = the beginning

habit-report = Report { $check } yourself: explained on { $explained }, reported on none, { $often }.
habit-come-to = Come to { $check }: { $often }.
habit-often = left open on { $open } of { $of } walks
habit-one-walk = one walk
habit-walks = { $n } walks

trend-past-high = Past its limit already: { $value }, and at most { $limit } is allowed.
trend-at-high = At its limit: { $value }, and at most { $limit } is allowed.
trend-past-low = Past its limit already: { $value }, and at least { $limit } is needed.
trend-at-low = At its limit: { $value }, and at least { $limit } is needed.
trend-past = By its trend it is past the limit already, though the last value is within.
trend-few = { $n } values are too few for a trend.
trend-scatter = No trend can be told from the scatter.
trend-steady = It changes steadily.
trend-no-limit = It changes steadily; no limit lies within sight.
trend-reaches = It reaches the limit at about { $at }; between { $from } and { $to }.
trend-hours = { $n } aircraft hours
trend-days = { $n } days
trend-back = Found { $n } times: it came back.

squawk-date = The deferral names a date that cannot be read: "{ $date }".
squawk-ran-out-on = The deferral ran out on { $day }.
squawk-ran-out-at = The deferral ran out at { $until } hours; the aircraft has { $hours }.
squawk-flights = The deferral was for { $until } flights, and { $flights } have been walked since.
squawk-both = Both say { $what } of { $part }.
squawk-part = the same part
squawk-joined-nowhere = It was joined to a squawk that is not here, and is open until that one is.
squawk-unmended = It was closed without having been rectified and rechecked.
squawk-unchecked = It was closed without having been rechecked by a pilot.
squawk-late-deferral = It was deferred after it had been rectified.
squawk-late-work = It was rectified after it had been rechecked.
squawk-unwritten = It was found gone, and nobody had written down that it was rectified.
squawk-no-catalogue = { $aircraft } has no catalogue on this device: its squawks stand in the words they were said in.

school-none = This device is in no school: join it with a code.
school-page = The school cannot be reached from this page.
school-unreached = The school cannot be reached.
school-other = What answers is not the school.
school-cut = The answer of the school was cut off.
school-unread = The school answers in a way that this app cannot read.
school-not-taken = This device could not take what the school sent: { $why }
