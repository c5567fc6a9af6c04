# Settings, the erasing of sound, and the ear check.

settings-theme = Light
theme-system = As the device
theme-system-text = Light or dark, as it is set
theme-light = Light
theme-light-text = For full sun
theme-dark = Dark
theme-dark-text = For the hangar and the evening
theme-red = Night red
theme-red-text = Keeps the eye adapted; no colour means anything then
# Each in its own words: who reads only that one finds it.
language-en = English
language-de = Deutsch
settings-talk = Said aloud
talk-tones = Tones only
talk-tones-text = Words only in answer to an order, or when something is wrong; the rest is on the screen
talk-exceptions = Exceptions
talk-exceptions-text = Questions, findings and what was not understood
talk-everything = Everything
talk-everything-text = What was taken as good is read back too
settings-ear = Words come from
settings-embedded = Nothing leaves the device. Weak in wind and engine noise.
settings-browser = May send the sound to the browser’s maker; the walk says when it does.
settings-typed = No microphone.
settings-local = It is here and listens first, Talkround’s own beside it. Nothing leaves the device.
settings-check = To the ear check
settings-sound = Sound
settings-earcons = Short tones for heard, finding and question
settings-keep-sound = Keep the sound beside the words, for the debrief
settings-pilot = Pilot
settings-name = Name
settings-certificate = Certificate number
settings-paper = Paper
settings-words = Your words
settings-words-note = What your answers told about your own words, to be looked at and forgotten.
settings-school = This device and its school

erase = Erase a person’s sound
erase-whose = Whose sound? The name as it stands on the walks.
erase-busy = Erasing …
erase-offer = Erase the sound …
erase-sure = Erase the sound of { $name }?
erase-note = Every recording on this device in which { $name } speaks is erased, the voices of others in it too. It cannot be undone. The words that were heard stay, and each record says that its sound was erased. Backups and other devices are not touched.
erase-yes = Erase it
erase-no = Keep it

## Ear check

check-what = Read three phrases once, so that this device knows your voice. Nothing of it is a walk, and no sound is kept.
check-none = There is no ear check here: nothing listens on this device itself.
check-back = Back
check-back-walk = Back to the walk
check-begin = Read three phrases
check-again = Read again
check-long = Read six, for a better fit
check-keep = It is me: keep it
check-forget = Forget this voice
check-understood = understood
check-not = not understood
check-off = It takes ten seconds. Say each phrase as you would at the aircraft.
check-starting = The ear is loading.
check-listening = Read the phrase aloud.
check-hearing = Hearing you.
check-fitting = Fitting the ear to your voice.
check-trouble = The ear check cannot go on.
check-kept = Done. This device listens for your voice from now on.
check-why-few = Broken off: fewer than three phrases were read, and nothing was kept.
check-why-noise = It is too noisy here to learn a voice, and nothing was kept: go where it is quieter, or bring the microphone closer.
check-why-unlike = These phrases were not understood, and nothing was kept: this voice is not one that this device understands yet. Use the browser’s recogniser, or type.
check-why-two = More than one voice was heard, and nothing was kept: one person reads all of it.
check-why-other = This sounds like somebody else than before, and is not kept: keep it only if the name in the settings is yours.
