# Einstellungen, das Löschen von Ton, und der Hörtest.

settings-theme = Darstellung
theme-system = Wie das Gerät
theme-system-text = Hell oder dunkel, wie es eingestellt ist
theme-light = Hell
theme-light-text = Für volle Sonne
theme-dark = Dunkel
theme-dark-text = Für die Halle und den Abend
theme-red = Nachtrot
theme-red-text = Das Auge bleibt an die Nacht gewöhnt; Farben bedeuten dann nichts
# Jede in ihrer eigenen: wer nur die liest, findet sie.
language-en = English
language-de = Deutsch
settings-talk = Laut gesagt wird
talk-tones = Nur Töne
talk-tones-text = Worte nur als Antwort auf einen Befehl, oder wenn etwas nicht stimmt; der Rest steht auf dem Bildschirm
talk-exceptions = Ausnahmen
talk-exceptions-text = Fragen, Befunde und was nicht verstanden wurde
talk-everything = Alles
talk-everything-text = Auch was als gut genommen wurde, wird vorgelesen
settings-ear = Die Worte kommen von
settings-embedded = Nichts verlässt das Gerät. Schwach bei Wind und Triebwerkslärm.
settings-browser = Schickt den Ton vielleicht an den Hersteller des Browsers; der Rundgang sagt es dann.
settings-typed = Kein Mikrofon.
settings-local = Sie ist da und hört zuerst zu, die von Talkround daneben. Nichts verlässt das Gerät.
settings-check = Zum Hörtest
settings-sound = Ton
settings-earcons = Kurze Töne für Gehörtes, Befund und Frage
settings-keep-sound = Zu den Worten auch den Ton behalten, für die Nachbesprechung
settings-pilot = Pilot
settings-name = Name
settings-certificate = Lizenznummer
settings-paper = Papier
settings-words = Ihre Worte
settings-words-note = Was Ihre Antworten über Ihre eigenen Worte sagten, zum Ansehen und Vergessen.
settings-school = Dieses Gerät und seine Schule

erase = Den Ton einer Person löschen
erase-whose = Wessen Ton? Der Name, wie er auf den Rundgängen steht.
erase-busy = Wird gelöscht …
erase-offer = Den Ton löschen …
erase-sure = Den Ton von { $name } löschen?
erase-note = Jede Aufnahme auf diesem Gerät, in der { $name } spricht, wird gelöscht, mit den Stimmen anderer darin. Das lässt sich nicht zurücknehmen. Die gehörten Worte bleiben, und jede Aufzeichnung sagt, dass ihr Ton gelöscht wurde. Sicherungen und andere Geräte bleiben unberührt.
erase-yes = Löschen
erase-no = Behalten

## Hörtest

check-what = Drei Sätze einmal vorlesen, damit dieses Gerät die Stimme kennt. Nichts davon ist ein Rundgang, und kein Ton wird behalten.
check-none = Hier gibt es keinen Hörtest: auf diesem Gerät selbst hört nichts zu.
check-back = Zurück
check-back-walk = Zurück zum Rundgang
check-begin = Drei Sätze vorlesen
check-again = Noch einmal lesen
check-long = Sechs lesen, passt besser
check-keep = Ich bin es: behalten
check-forget = Diese Stimme vergessen
check-understood = verstanden
check-not = nicht verstanden
check-off = Es dauert zehn Sekunden. Jeden Satz so sagen wie am Luftfahrzeug.
check-starting = Das Ohr wird geladen.
check-listening = Den Satz laut lesen.
check-hearing = Es hört zu.
check-fitting = Das Ohr wird an die Stimme angepasst.
check-trouble = Der Hörtest kann nicht weitergehen.
check-kept = Fertig. Dieses Gerät hört von jetzt an auf diese Stimme.
check-why-few = Abgebrochen: weniger als drei Sätze wurden gelesen, und nichts wurde behalten.
check-why-noise = Es ist hier zu laut, um eine Stimme zu lernen, und nichts wurde behalten: dorthin gehen, wo es leiser ist, oder das Mikrofon näher holen.
check-why-unlike = Diese Sätze wurden nicht verstanden, und nichts wurde behalten: diese Stimme versteht dieses Gerät noch nicht. Die Erkennung des Browsers nehmen, oder tippen.
check-why-two = Mehr als eine Stimme war zu hören, und nichts wurde behalten: eine Person liest alles.
check-why-other = Das klingt nach jemand anderem als zuvor und wird nicht behalten: nur behalten, wenn der Name in den Einstellungen der eigene ist.
