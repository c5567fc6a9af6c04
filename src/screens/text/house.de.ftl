# Was Ohr, Aufzeichnung und Gerät sagen, in der Sprache des Bildschirms. Siehe house.en.ftl.

mic-denied = Das Mikrofon ist nicht erlaubt. Im Browser für diese Seite erlauben, dann neu beginnen.
mic-insecure = Der Browser erlaubt auf dieser Seite kein Mikrofon. Über HTTPS öffnen.
mic-none = Es gibt kein Mikrofon. Eines anschließen; das Zuhören beginnt von selbst.
mic-busy = Das Mikrofon ist belegt. Die App schließen, die es benutzt, oder den Anruf beenden.
mic-shut = Das Mikrofon ließ sich nicht öffnen. Abziehen und wieder anschließen.
mic-page = Diese Seite kann kein Mikrofon benutzen. Über HTTPS öffnen, oder die Worte tippen.
mic-silent = Das Mikrofon ist stumm: ein Anruf oder eine andere App hat es.
mic-back = Das Mikrofon ist wieder da.
mic-failed = Das Mikrofon ließ sich nicht öffnen.
mic-gone = Das Mikrofon ist weg: abgezogen oder entzogen. Anschließen oder wieder erlauben.
mic-no-sound = Der Browser lässt noch keinen Ton durch. Den Bildschirm berühren und neu beginnen.
mic-no-way = Dieser Browser kann den Ton des Mikrofons nicht weitergeben.
mic-no-answer = Kein Mikrofon antwortet. Eines anschließen, oder die App schließen, die es benutzt.
mic-nothing = Es gibt kein Mikrofon, dem zugehört werden könnte.
mic-ask = Das Mikrofon erlauben, wenn der Browser fragt.

sound-none = Dieser Browser behält keinen Ton; nur die Worte werden behalten.
sound-not-recorded = Der Ton ließ sich nicht aufnehmen; nur die Worte werden behalten.
sound-not-written = Der Ton ließ sich nicht schreiben; von hier an werden nur die Worte behalten.
sound-broke-off = Die Aufnahme brach ab; von hier an werden nur die Worte behalten.
sound-no-begin = Der Anfang dieser Aufnahme fehlt; sie lässt sich nicht abspielen.
sound-no-slice = Ein Stück dieser Aufnahme fehlt; bis dorthin lässt sie sich abspielen.
sound-not-kept = Kein Ton wird behalten.

page-hidden = Die Seite ist nicht vorn; nichts wird gehört.
page-call = Ein Anruf oder eine andere App hat das Mikrofon; der Rundgang pausiert.
page-mic-gone = Das Mikrofon ist weg; der Rundgang pausiert. Anschließen oder wieder erlauben.
page-back = Wieder da. „resume“ sagen, um weiterzumachen.
page-free = Das Mikrofon ist wieder frei. „resume“ sagen, um weiterzumachen.
page-mic-back = Das Mikrofon ist wieder da. „resume“ sagen, um weiterzumachen.

browser-refuses = Dieser Browser lässt die Seite seinen Sprachdienst nicht benutzen.
browser-offline = Der Sprachdienst des Browsers ist nicht zu erreichen.
browser-language = Die Erkennung des Browsers hat diese Sprache nicht.
browser-broke-off = Die Erkennung des Browsers brach ab; „{ $words }“ wurde genommen, so weit sie kam.
browser-stopped = Die Erkennung des Browsers hielt an: „{ $why }“.
browser-taken = Eine andere Seite oder App nimmt die Erkennung immer wieder weg. Sie schließen, dann neu beginnen.
browser-empty = Die Erkennung des Browsers endet immer wieder, ohne zuzuhören.
browser-no-words = Etwas wurde gesagt, und der Browser machte keine Worte daraus.
browser-starting = Die Erkennung des Browsers beginnt.
browser-none = Dieser Browser hat keine eigene Erkennung.
browser-closed = Die Erkennung des Browsers ist geschlossen.
browser-listens-here = Die Erkennung des Browsers hört auf diesem Gerät zu.
browser-listens-away = Der Sprachdienst des Browsers hört zu; der Ton verlässt dieses Gerät.
browser-pack = Der Browser könnte auf diesem Gerät erkennen, sobald sein Sprachpaket eingerichtet ist; das ist es nicht.
browser-not-here = Der Browser kann auf diesem Gerät nicht erkennen.
browser-untold = Der Browser sagt nicht, ob er auf diesem Gerät erkennt; darum wird er nicht benutzt.
browser-no-own = Der Browser hat auf diesem Gerät keine Erkennung.
browser-no-service = Dieser Browser hat keinen Sprachdienst.
browser-privacy = Der Sprachdienst des Browsers schickt den Ton Ihrer Stimme über das Netz, damit er erkannt wird. Die Aufnahme bleibt auf diesem Gerät.

own-held = Pause. Nichts wird gehört.
own-listens = Dieses Gerät hört zu.
own-stopped-again = Die Erkennung dieses Geräts hielt immer wieder an: { $why }.
own-restarts = Die Erkennung hielt an und wird neu begonnen; nichts ist verloren.
own-not-opened = Die Erkennung dieses Geräts lässt sich nicht öffnen: { $why }.
own-no-words = Etwas wurde gesagt, und keine Worte wurden daraus.
own-loading = Die Erkennung dieses Geräts wird geladen.
own-closed = Die Erkennung dieses Geräts ist geschlossen.
own-old = Dieser Browser ist zu alt für die Erkennung dieses Geräts.
own-no-files = Die Dateien der Erkennung sind noch nicht auf diesem Gerät.
own-no-answer = Die Erkennung antwortete nicht.
own-stopped = Die Erkennung hielt an: { $why }.
own-incomplete = Die Erkennung auf diesem Gerät ist nicht vollständig: { $why }. Die Seite einmal mit Netz öffnen, dann wird sie behalten.

ear-closed = Es wird nicht mehr zugehört.
ear-looking = Es wird gesucht, was hier zuhören kann.
ear-other-tab = Ein anderer Tab von Talkround hört zu. Ihn dort schließen, dann hier neu beginnen.
ear-setting = Die Einstellung wurde geändert.
ear-none = Nichts kann hier zuhören: { $why } Worte lassen sich tippen.
ear-nothing-else = Nichts anderes kann zuhören; Worte lassen sich tippen.

record-not-promised = Dieser Browser hat nicht versprochen, die Aufzeichnung zu behalten: er löscht sie vielleicht, wenn der Platz knapp wird, und manche Browser tun es nach sieben Tagen ohne Benutzung. Talkround einrichten, oder nach dem Rundgang eine Sicherung speichern.
record-no-room = Auf diesem Gerät ist kaum noch Platz. Vor dem Rundgang Platz schaffen.
record-words-only = Für Worte ist Platz, für Ton nicht. Der Rundgang lässt sich in Worten aufzeichnen.
record-minute = Für etwa eine Minute Ton ist Platz. Danach geht der Rundgang in Worten weiter.
record-minutes = Für etwa { $minutes } Minuten Ton ist Platz. Danach geht der Rundgang in Worten weiter.
record-one-copy = Dieser Browser behält nur eine Kopie der Aufzeichnung. Nach einem Absturz wirft er sie vielleicht weg: nach dem Rundgang eine Sicherung speichern.
record-second-copy = Die zweite Kopie der Aufzeichnung ließ sich nicht schreiben. Was gesagt wird, steht einmal auf der Platte: nach dem Rundgang eine Sicherung speichern, dann diese Seite neu laden.
record-full = Auf diesem Gerät ist kein Platz mehr. Platz schaffen, oder eine Sicherung speichern und alten Ton löschen.
record-full-sound = Auf diesem Gerät ist kein Platz mehr für Ton. Der Rundgang geht in Worten weiter; Platz schaffen, um wieder Ton aufzunehmen.
record-full-pictures = Auf diesem Gerät ist kein Platz mehr für Bilder. Platz schaffen, dann noch einmal aufnehmen; was gesagt wurde, ist behalten.
record-unkept-one = Das zuletzt Gesagte ist noch nicht gespeichert. Diese Seite offen lassen und Platz schaffen.
record-unkept = Die letzten { $n } Äußerungen sind noch nicht gespeichert. Diese Seite offen lassen und Platz schaffen.

copy-none = Talkround ist auf diesem Gerät nicht gespeichert: { $why }. Jetzt läuft es, aber ohne dieses Netz lässt es sich hier nicht öffnen.
copy-never = Dieser Browser behält keine Seite für die Benutzung ohne Netz. Jetzt läuft Talkround, aber ohne dieses Netz lässt es sich hier nicht öffnen.

reader-dictionary = Das Aussprachewörterbuch ließ sich nicht laden; die Seite einmal mit Netz neu laden.
reader-scores = Die Gewichte des Lesers sind nicht da.
reader-none = Was gesagt wird, lässt sich jetzt nicht verstehen: { $why } Ergebnisse lassen sich durch Berühren geben; die Seite einmal mit Netz neu laden.

walk-not-finished = Der Rundgang wurde nicht für abgeschlossen erklärt.
walk-silent = { $long } lang wurde nichts gesagt.
walk-late-station = { $station } wurde später begangen, als es an der Reihe war; dieser Katalog verlangt seine Reihenfolge.
walk-late-check = { $check } wurde später getan, als es an der Reihe war; { $station } verlangt seine Reihenfolge.
walk-too-soon = { $check } bei { $station } wurde beantwortet, bevor jemand von { $from } dorthin gegangen sein kann.
walk-too-fast = { $n } Prüfpunkte wurden in { $seconds } s beantwortet, schneller als sie sich prüfen lassen.
walk-no-value = { $check } wurde ohne Wert beantwortet.
walk-no-state = { $check } wurde beantwortet, ohne zu sagen, wie es darum steht.
walk-held = Pause bei { $station }.
walk-held-half = Pause bei { $station }, als dort { $open } von { $all } Prüfpunkten noch fehlten.
walk-resumed = Fortgesetzt bei { $station }.
walk-still-open = Davon noch offen: { $n }.
walk-not-resumed = Er wurde nicht fortgesetzt.
walk-beginning = dem Anfang

habit-report = { $check } selbst melden: erklärt auf { $explained }, gemeldet auf keinem, { $often }.
habit-come-to = Auf { $check } kommen: { $often }.
habit-often = offen geblieben auf { $open } von { $of } Rundgängen
habit-one-walk = einem Rundgang
habit-walks = { $n } Rundgängen

trend-past-high = Schon jenseits der Grenze: { $value }, und höchstens { $limit } ist erlaubt.
trend-at-high = An der Grenze: { $value }, und höchstens { $limit } ist erlaubt.
trend-past-low = Schon jenseits der Grenze: { $value }, und mindestens { $limit } ist nötig.
trend-at-low = An der Grenze: { $value }, und mindestens { $limit } ist nötig.
trend-past = Der Richtung nach ist die Grenze schon überschritten, obwohl der letzte Wert darin liegt.
trend-few = { $n } Werte sind zu wenige für eine Richtung.
trend-scatter = Aus der Streuung lässt sich keine Richtung ablesen.
trend-steady = Es ändert sich stetig.
trend-no-limit = Es ändert sich stetig; keine Grenze ist in Sicht.
trend-reaches = Die Grenze ist etwa { $at } erreicht; zwischen { $from } und { $to }.
trend-hours = bei { $n } Betriebsstunden
trend-days = nach { $n } Tagen
trend-back = { $n } Mal gefunden: es kam wieder.

squawk-date = Der Aufschub nennt ein Datum, das sich nicht lesen lässt: „{ $date }“.
squawk-ran-out-on = Der Aufschub ist am { $day } abgelaufen.
squawk-ran-out-at = Der Aufschub ist bei { $until } Betriebsstunden abgelaufen; das Luftfahrzeug hat { $hours }.
squawk-flights = Der Aufschub galt für { $until } Flüge, und { $flights } wurden seither begangen.
squawk-both = Beide sagen { $what } von { $part }.
squawk-part = demselben Teil
squawk-joined-nowhere = Sie wurde mit einer Beanstandung zusammengelegt, die nicht hier ist, und ist offen, bis jene da ist.
squawk-unmended = Sie wurde geschlossen, ohne behoben und nachgeprüft zu sein.
squawk-unchecked = Sie wurde geschlossen, ohne dass ein Pilot nachgeprüft hat.
squawk-late-deferral = Sie wurde aufgeschoben, nachdem sie behoben war.
squawk-late-work = Sie wurde behoben, nachdem sie nachgeprüft war.
squawk-unwritten = Es war weg, und niemand hatte aufgeschrieben, dass es behoben wurde.
squawk-no-catalogue = { $aircraft } hat auf diesem Gerät keinen Katalog: die Beanstandungen stehen in den Worten, in denen sie gesagt wurden.

school-none = Dieses Gerät ist in keiner Schule: mit einem Code beitreten.
school-page = Von dieser Seite aus ist die Schule nicht zu erreichen.
school-unreached = Die Schule ist nicht zu erreichen.
school-other = Was antwortet, ist nicht die Schule.
school-cut = Die Antwort der Schule brach ab.
school-unread = Die Schule antwortet auf eine Weise, die diese App nicht lesen kann.
school-not-taken = Dieses Gerät konnte nicht nehmen, was die Schule schickte: { $why }
