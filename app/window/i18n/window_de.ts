<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de_DE" sourcelanguage="en_US">
<context>
    <name>CardWords</name>
    <message>
        <source>Hold the card square to the camera.</source>
        <translation>Halte die Karte gerade vor die Kamera.</translation>
    </message>
    <message>
        <source>Tilt the card: its upper edge toward the camera.</source>
        <translation>Kippe die Karte: die obere Kante zur Kamera.</translation>
    </message>
    <message>
        <source>Tilt the card: its lower edge toward the camera.</source>
        <translation>Kippe die Karte: die untere Kante zur Kamera.</translation>
    </message>
    <message>
        <source>Turn the card: its left edge toward the camera.</source>
        <translation>Drehe die Karte: die linke Kante zur Kamera.</translation>
    </message>
    <message>
        <source>Turn the card: its right edge toward the camera.</source>
        <translation>Drehe die Karte: die rechte Kante zur Kamera.</translation>
    </message>
    <message>
        <source>The card is not seen. Its pattern must face the camera.</source>
        <translation>Die Karte ist nicht zu sehen. Ihr Muster muss zur Kamera zeigen.</translation>
    </message>
    <message>
        <source>The camera delivers a mirrored picture; switch that off.</source>
        <translation>Die Kamera liefert ein gespiegeltes Bild; schalte das aus.</translation>
    </message>
    <message>
        <source>Too little of the pattern is seen: hold the card at its rim.</source>
        <translation>Vom Muster ist zu wenig zu sehen: Halte die Karte am Rand.</translation>
    </message>
    <message>
        <source>The pattern is not on one flat card.</source>
        <translation>Das Muster liegt nicht auf einer einzigen flachen Karte.</translation>
    </message>
    <message>
        <source>The card is not seen. A plain dark ground behind it helps.</source>
        <translation>Die Karte ist nicht zu sehen. Ein ruhiger, dunkler Hintergrund hilft.</translation>
    </message>
    <message>
        <source>An edge of the card is hidden: hold it by one corner.</source>
        <translation>Eine Kante der Karte ist verdeckt: Halte sie an einer Ecke.</translation>
    </message>
    <message>
        <source>Bring the card nearer.</source>
        <translation>Komm mit der Karte näher.</translation>
    </message>
    <message>
        <source>The card reaches out of the picture.</source>
        <translation>Die Karte ragt aus dem Bild.</translation>
    </message>
    <message>
        <source>the width of the iris</source>
        <translation>die Breite der Iris</translation>
    </message>
    <message>
        <source>the distance of the pupils</source>
        <translation>der Abstand der Pupillen</translation>
    </message>
    <message>
        <source>the distance of the outer eye corners</source>
        <translation>der Abstand der äußeren Augenwinkel</translation>
    </message>
    <message>
        <source>the distance of the inner eye corners</source>
        <translation>der Abstand der inneren Augenwinkel</translation>
    </message>
    <message>
        <source>Move the card to the dashed place in the picture.</source>
        <translation>Halte die Karte an die gestrichelte Stelle im Bild.</translation>
    </message>
    <message>
        <source>Go on: other tilts and other distances.</source>
        <translation>Weiter so: andere Neigungen und andere Abstände.</translation>
    </message>
    <message>
        <source>Hold still ...</source>
        <translation>Halte still ...</translation>
    </message>
    <message>
        <source>Too like an earlier view: change the tilt or the place.</source>
        <translation>Zu ähnlich wie vorher: Ändere die Neigung oder die Stelle.</translation>
    </message>
    <message>
        <source>That is tilted too far.</source>
        <translation>Das ist zu weit gekippt.</translation>
    </message>
    <message>
        <source>✓ Taken.</source>
        <translation>✓ Aufgenommen.</translation>
    </message>
    <message>
        <source>This card has not the shape of a bank card. Take a bank, health or library card.</source>
        <translation>Diese Karte hat nicht die Form einer Bankkarte. Nimm eine Bank-, Gesundheits- oder Bibliothekskarte.</translation>
    </message>
    <message>
        <source>The pattern is stretched. Print the sheet at 100 %, not fitted to the page.</source>
        <translation>Das Muster ist verzerrt. Drucke den Bogen mit 100 %, nicht an die Seite angepasst.</translation>
    </message>
    <message>
        <source>The card is bent. Glue it around a stiff card, or take a flat one.</source>
        <translation>Die Karte ist gebogen. Klebe sie um eine steife Karte oder nimm eine flache.</translation>
    </message>
    <message>
        <source>The edges lie off any flat card. Hold it still, in good light, and take a stiff one.</source>
        <translation>Die Kanten passen zu keiner flachen Karte. Halte sie still, bei gutem Licht, und nimm eine steife.</translation>
    </message>
    <message>
        <source>The card was tilted too little. About a third of a right angle is good.</source>
        <translation>Die Karte war zu wenig gekippt. Etwa ein Drittel eines rechten Winkels ist gut.</translation>
    </message>
    <message>
        <source>Too few views. Please go on until the bar is full.</source>
        <translation>Zu wenige Ansichten. Bitte mach weiter, bis der Balken voll ist.</translation>
    </message>
    <message>
        <source>Too few views. The printed card is found more easily.</source>
        <translation>Zu wenige Ansichten. Die gedruckte Karte wird leichter gefunden.</translation>
    </message>
    <message>
        <source>The card is bent.</source>
        <translation>Die Karte ist gebogen.</translation>
    </message>
    <message>
        <source>The pattern does not fit this card&apos;s size.</source>
        <translation>Das Muster passt nicht zur Größe dieser Karte.</translation>
    </message>
    <message>
        <source>Your eyes are not seen. Keep hair and hand out of the way.</source>
        <translation>Deine Augen sind nicht zu sehen. Haare und Hand bitte weg davon.</translation>
    </message>
    <message>
        <source>Come nearer.</source>
        <translation>Komm näher.</translation>
    </message>
    <message>
        <source>Go back a little.</source>
        <translation>Geh ein wenig zurück.</translation>
    </message>
    <message>
        <source>All lengths together are %1 larger than usual. Lay the printed card on a bank card: is it as large?</source>
        <translation>Alle Längen zusammen sind %1 größer als üblich. Lege die gedruckte Karte auf eine Bankkarte: Ist sie gleich groß?</translation>
    </message>
    <message>
        <source>All lengths together are %1 smaller than usual. Lay the printed card on a bank card: is it as large?</source>
        <translation>Alle Längen zusammen sind %1 kleiner als üblich. Lege die gedruckte Karte auf eine Bankkarte: Ist sie gleich groß?</translation>
    </message>
    <message>
        <source>Unusual: %1 came out as %2 mm.</source>
        <translation>Ungewöhnlich: %1, gemessen zu %2 mm.</translation>
    </message>
    <message>
        <source>The bank card is not seen beside the pattern. It must fill the corners of its place.</source>
        <translation>Die Bankkarte neben dem Muster ist nicht zu sehen. Sie muss die Ecken ihres Platzes ausfüllen.</translation>
    </message>
    <message>
        <source>Lay the sheet flat, the bank card flat on it, and hold the camera squarely over both.</source>
        <translation>Lege das Blatt flach hin, die Bankkarte flach darauf, und halte die Kamera gerade über beide.</translation>
    </message>
    <message>
        <source>The sheet is printed at %1 of its size.</source>
        <translation>Das Blatt ist auf %1 seiner Größe gedruckt.</translation>
    </message>
    <message>
        <source>The sheet is printed at %1 of its width and %2 of its height.</source>
        <translation>Das Blatt ist auf %1 seiner Breite und %2 seiner Höhe gedruckt.</translation>
    </message>
    <message>
        <source>Print it again at 100 % (“actual size”), not fitted to the page, and make the card from the new print.</source>
        <translation>Drucke es noch einmal mit 100 % („tatsächliche Größe“), nicht an die Seite angepasst, und mache die Karte aus dem neuen Druck.</translation>
    </message>
</context>
<context>
    <name>ComfortAnswers</name>
    <message>
        <source>Look far away for a moment. How do your eyes feel now?</source>
        <translation>Schau einen Moment in die Ferne. Wie fühlen sich deine Augen jetzt an?</translation>
    </message>
    <message>
        <source>Fine</source>
        <translation>Gut</translation>
    </message>
    <message>
        <source>A little tired or blurred</source>
        <translation>Etwas müde oder unscharf</translation>
    </message>
    <message>
        <source>They hurt, or I feel sick or dizzy</source>
        <translation>Sie tun weh, oder mir ist übel oder schwindlig</translation>
    </message>
    <message>
        <source>I still see two</source>
        <translation>Ich sehe immer noch doppelt</translation>
    </message>
</context>
<context>
    <name>KeepCalibration</name>
    <message>
        <source>Measured on %1.</source>
        <translation>Gemessen am %1.</translation>
    </message>
</context>
<context>
    <name>SafetyWords</name>
    <message>
        <source>Did double vision begin suddenly, or is it there all the time?</source>
        <translation>Haben Doppelbilder plötzlich angefangen, oder sind sie ständig da?</translation>
    </message>
    <message>
        <source>Do you have a drooping lid, unequal pupils, weakness, numbness or trouble speaking, or did your sight suddenly get worse?</source>
        <translation>Hast du ein hängendes Lid, ungleiche Pupillen, Schwäche, Taubheit oder Mühe beim Sprechen, oder siehst du plötzlich schlechter?</translation>
    </message>
    <message>
        <source>Does an eye hurt, or do you have a new kind of headache?</source>
        <translation>Tut ein Auge weh, oder hast du neuartige Kopfschmerzen?</translation>
    </message>
    <message>
        <source>Did you have a blow to the head or a concussion in the last weeks?</source>
        <translation>Hattest du in den letzten Wochen einen Schlag auf den Kopf oder eine Gehirnerschütterung?</translation>
    </message>
    <message>
        <source>Do you have a squint, a weak (&quot;lazy&quot;) eye, or eyes that tremble?</source>
        <translation>Schielst du, hast du ein schwaches („faules“) Auge, oder zittern deine Augen?</translation>
    </message>
    <message>
        <source>Did you have an operation on an eye, or do you have a disease of the nerves?</source>
        <translation>Wurdest du an einem Auge operiert, oder hast du eine Krankheit der Nerven?</translation>
    </message>
    <message>
        <source>Did an eye-care professional who knows about it say that you may do this?</source>
        <translation>Hat deine Augenpraxis, die davon weiß, gesagt, dass du das machen darfst?</translation>
    </message>
    <message>
        <source>Is anything new: pain, a headache, double vision, a blow to the head, or another sign?</source>
        <translation>Ist etwas neu: Schmerzen, Kopfschmerzen, Doppelbilder, ein Schlag auf den Kopf oder etwas anderes?</translation>
    </message>
    <message>
        <source>Does an adult sit beside you now, and stay?</source>
        <translation>Sitzt jetzt ein Erwachsener neben dir und bleibt?</translation>
    </message>
    <message>
        <source>Did your eye-care professional tell you to exercise?</source>
        <translation>Hat deine Augenpraxis gesagt, dass du üben sollst?</translation>
    </message>
    <message>
        <source>Please do not measure or exercise now. Ask your eye-care professional first whether you may.</source>
        <translation>Bitte miss und übe jetzt nicht. Frag zuerst in deiner Augenpraxis, ob du darfst.</translation>
    </message>
    <message>
        <source>Please do not measure or exercise now.</source>
        <translation>Bitte miss und übe jetzt nicht.</translation>
    </message>
    <message>
        <source>Last time your eyes hurt, you felt sick or dizzy, or you still saw two. Please do not go on before you have asked somebody.</source>
        <translation>Beim letzten Mal taten deine Augen weh, dir war übel oder schwindlig, oder du hast danach noch doppelt gesehen. Bitte mach nicht weiter, bevor du jemanden gefragt hast.</translation>
    </message>
    <message>
        <source>What is published: in the largest trial, with children, 43 of 100 were better after 12 weeks of push-ups at home, 35 of 100 after exercises made to do nothing, and 73 of 100 after training with a professional (CITT 2008).</source>
        <translation>Veröffentlicht ist: In der größten Studie, mit Kindern, ging es nach 12 Wochen solcher Übungen zu Hause 43 von 100 besser, nach Übungen ohne Wirkung 35 von 100, nach Training bei Fachleuten 73 von 100 (CITT 2008).</translation>
    </message>
</context>
<context>
    <name>SessionResult</name>
    <message>
        <source>No trial counts, so there is no result.</source>
        <translation>Kein Durchgang zählt, also gibt es kein Ergebnis.</translation>
    </message>
    <message>
        <source>Two from the start: farther than %1.</source>
        <translation>Von Anfang an zwei: weiter als %1.</translation>
    </message>
    <message>
        <source>One all the way: nearer than %1.</source>
        <translation>Durchgehend einer: näher als %1.</translation>
    </message>
    <message>
        <source>%1, most likely between %2 and %3.</source>
        <translation>%1, recht sicher zwischen %2 und %3.</translation>
    </message>
    <message>
        <source>This was practice: the numbers are those of a simulated person, not yours.</source>
        <translation>Das war eine Übung: Die Zahlen gehören zu einer simulierten Person, nicht zu dir.</translation>
    </message>
    <message>
        <source>No trial counts today, so nothing can be said about your near point.</source>
        <translation>Heute zählt kein Durchgang, also lässt sich über deinen Nahpunkt nichts sagen.</translation>
    </message>
    <message>
        <source>You see two already at about %1: farther away than the usual limit.</source>
        <translation>Du siehst schon bei etwa %1 doppelt: weiter weg als die übliche Grenze.</translation>
    </message>
    <message>
        <source>You saw two from the start: farther away than the usual limit.</source>
        <translation>Du hast von Anfang an doppelt gesehen: weiter weg als die übliche Grenze.</translation>
    </message>
    <message>
        <source>Your near point is so close to the usual limit that today&apos;s measurement cannot tell on which side it is.</source>
        <translation>Dein Nahpunkt liegt so dicht an der üblichen Grenze, dass die heutige Messung nicht sagen kann, auf welcher Seite.</translation>
    </message>
    <message>
        <source>When you feel at home with it, leave practice and measure yourself.</source>
        <translation>Wenn du dich damit auskennst, beende das Üben und miss dich selbst.</translation>
    </message>
    <message>
        <source>Rest a little and try again, with light from the front and your face straight to the camera.</source>
        <translation>Ruh dich etwas aus und versuch es noch einmal, mit Licht von vorn und dem Gesicht gerade zur Kamera.</translation>
    </message>
    <message>
        <source>Nothing to do now. If reading is hard or you see double at times, see an eye professional all the same: this is one number only.</source>
        <translation>Jetzt ist nichts zu tun. Wenn dir das Lesen schwerfällt oder du manchmal doppelt siehst, geh trotzdem zu Augenfachleuten: Das hier ist nur eine Zahl.</translation>
    </message>
    <message>
        <source>Show this to your optometrist, orthoptist or eye doctor. It is a screening result and no diagnosis.</source>
        <translation>Zeig das deiner Optometristin, Orthoptistin oder Augenärztin. Es ist das Ergebnis einer Vorprüfung und keine Diagnose.</translation>
    </message>
    <message>
        <source>Measure again on another day at the same hour, with rested eyes.</source>
        <translation>Miss an einem anderen Tag zur selben Zeit noch einmal, mit ausgeruhten Augen.</translation>
    </message>
    <message numerus="yes">
        <source>%n trial(s) count.</source>
        <translation>
            <numerusform>%n Durchgang zählt.</numerusform>
            <numerusform>%n Durchgänge zählen.</numerusform>
        </translation>
    </message>
    <message>
        <source>All distances are from the target to the front of the eye (corneal plane). If the measurement were repeated many times, bands made like this one would hold the true value 19 times in 20.</source>
        <translation>Alle Entfernungen gelten vom Buchstaben bis zur Vorderseite des Auges (Hornhautebene). Würde man die Messung oft wiederholen, enthielten so gebildete Bereiche den wahren Wert in 19 von 20 Fällen.</translation>
    </message>
    <message>
        <source>The usual limit is %1, counted from the front of the eye: %2.</source>
        <translation>Die übliche Grenze ist %1, von der Augenvorderseite gezählt: %2.</translation>
    </message>
    <message>
        <source>Your face was not measured with a card, so lengths of an average face were used: about plus or minus 4 % instead of 1 %.</source>
        <translation>Dein Gesicht wurde nicht mit einer Karte vermessen, darum galten Maße eines durchschnittlichen Gesichts: etwa plus oder minus 4 % statt 1 %.</translation>
    </message>
    <message>
        <source>From trial to trial your near point changed, as it does when eyes tire; the number is the mean of the session.</source>
        <translation>Von Durchgang zu Durchgang hat sich dein Nahpunkt verändert, wie bei ermüdenden Augen; die Zahl ist der Mittelwert der Sitzung.</translation>
    </message>
    <message>
        <source>The finest detail of the letter was %1 mm: %2 minutes of arc where you saw two.</source>
        <translation>Das feinste Detail des Buchstabens war %1 mm: %2 Winkelminuten dort, wo du zwei gesehen hast.</translation>
    </message>
    <message>
        <source>The finest detail of the letter was %1 mm.</source>
        <translation>Das feinste Detail des Buchstabens war %1 mm.</translation>
    </message>
    <message>
        <source>The camera was measured more than two years before: show it the card again.</source>
        <translation>Die Kamera wurde mehr als zwei Jahre zuvor gemessen: Zeig ihr die Karte noch einmal.</translation>
    </message>
    <message>
        <source>Your face was measured with the card more than half a year before, and children grow: measure it again.</source>
        <translation>Dein Gesicht wurde mehr als ein halbes Jahr zuvor mit der Karte gemessen, und Kinder wachsen: Miss es neu.</translation>
    </message>
    <message>
        <source>The place of the letter was measured more than half a year before: check it, since things are moved.</source>
        <translation>Der Ort des Buchstabens wurde mehr als ein halbes Jahr zuvor gemessen: Prüfe ihn, denn Dinge werden verrückt.</translation>
    </message>
    <message>
        <source>The speed of your hand was measured more than a year before: measure it again.</source>
        <translation>Die Schnelligkeit deiner Hand wurde mehr als ein Jahr zuvor gemessen: Miss sie neu.</translation>
    </message>
    <message>
        <source>What was stored with this measurement about your camera, face and hand cannot be read, so nobody knows how they were measured. The band holds the speed of a hand that was not measured.</source>
        <translation>Was mit dieser Messung über deine Kamera, dein Gesicht und deine Hand gespeichert wurde, lässt sich nicht lesen; darum weiß niemand, wie sie gemessen wurden. Das Band rechnet mit einer Hand, deren Schnelligkeit niemand gemessen hat.</translation>
    </message>
    <message>
        <source>You see two only at about %1: nearer than the usual limit.</source>
        <translation>Du siehst erst bei etwa %1 doppelt: näher als der übliche Grenzwert.</translation>
    </message>
    <message>
        <source>You saw one all the way: your near point is nearer than the usual limit.</source>
        <translation>Du hast es die ganze Zeit einfach gesehen: Dein Nahpunkt ist näher als der übliche Grenzwert.</translation>
    </message>
    <message>
        <source>You said that you still see two. Rest and look far away.</source>
        <translation>Du hast gesagt, dass du immer noch doppelt siehst. Ruh dich aus und schau in die Ferne.</translation>
    </message>
    <message>
        <source>You said that it hurts or that you feel sick. Do not measure again before you have asked an eye-care professional or a doctor.</source>
        <translation>Du hast gesagt, dass es weh tut oder dir übel ist. Miss nicht wieder, bevor du in einer Augen- oder Arztpraxis gefragt hast.</translation>
    </message>
    <message>
        <source>First ask somebody about your eyes, as it says here. Until then do not measure or exercise.</source>
        <translation>Frag zuerst jemanden wegen deiner Augen, wie es hier steht. Bis dahin miss und übe nicht.</translation>
    </message>
</context>
<context>
    <name>StepText</name>
    <message>
        <source>Step %1 of %2</source>
        <translation>Schritt %1 von %2</translation>
    </message>
</context>
<context>
    <name>Words</name>
    <message>
        <source>The camera does not see your eyes. Sit in front of it and look at it.</source>
        <translation>Die Kamera sieht deine Augen nicht. Setz dich davor und schau hin.</translation>
    </message>
    <message>
        <source>Your eyes seem closed. Open them wide, please.</source>
        <translation>Deine Augen scheinen zu zu sein. Mach sie bitte weit auf.</translation>
    </message>
    <message>
        <source>Something hides your eyes: hair, a hand, or light on the glasses.</source>
        <translation>Etwas verdeckt deine Augen: Haare, eine Hand oder Licht auf der Brille.</translation>
    </message>
    <message>
        <source>Too near for the camera. Go back a little.</source>
        <translation>Zu nah für die Kamera. Geh etwas zurück.</translation>
    </message>
    <message>
        <source>Turn your face straight to the camera.</source>
        <translation>Dreh dein Gesicht gerade zur Kamera.</translation>
    </message>
    <message>
        <source>The camera is not sure. More light from the front helps.</source>
        <translation>Die Kamera ist nicht sicher. Mehr Licht von vorn hilft.</translation>
    </message>
    <message>
        <source>That one was too fast to count. Once more, and slower.</source>
        <translation>Das war zu schnell, um zu zählen. Noch einmal, und langsamer.</translation>
    </message>
    <message>
        <source>The camera lost your eyes, so that one does not count. Once more: face straight to the camera, light from the front.</source>
        <translation>Die Kamera hat deine Augen verloren, darum zählt das nicht. Noch einmal: Gesicht gerade zur Kamera, Licht von vorn.</translation>
    </message>
    <message>
        <source>You did not come near enough for that one to count. Once more: lean in slowly until you see two.</source>
        <translation>Du warst nicht nah genug, darum zählt das nicht. Noch einmal: langsam vorbeugen, bis du zwei siehst.</translation>
    </message>
    <message>
        <source>The key came before you moved, so that one does not count. Once more: press when one becomes two.</source>
        <translation>Die Taste kam vor der Bewegung, darum zählt das nicht. Noch einmal: drücken, wenn aus einem zwei werden.</translation>
    </message>
    <message>
        <source>You came back without a key, so that one does not count. Once more: press any key as soon as you see two.</source>
        <translation>Du bist ohne Tastendruck zurückgegangen, darum zählt das nicht. Noch einmal: irgendeine Taste, sobald du zwei siehst.</translation>
    </message>
    <message>
        <source>Your eyes were not on the letter, so that one does not count. Once more: keep looking at the letter.</source>
        <translation>Deine Augen waren nicht auf dem Buchstaben, darum zählt das nicht. Noch einmal: immer auf den Buchstaben schauen.</translation>
    </message>
    <message>
        <source>One eye was shut or covered, so that one does not count. Once more, with both eyes open.</source>
        <translation>Ein Auge war zu oder verdeckt, darum zählt das nicht. Noch einmal, mit beiden Augen offen.</translation>
    </message>
    <message>
        <source>No camera was found, or a part of this program is missing.</source>
        <translation>Keine Kamera gefunden, oder ein Teil dieses Programms fehlt.</translation>
    </message>
    <message>
        <source>The camera gives no pictures. It may be unplugged, or another program may be using it.</source>
        <translation>Die Kamera liefert keine Bilder. Vielleicht ist sie ausgesteckt, oder ein anderes Programm benutzt sie.</translation>
    </message>
    <message>
        <source>This camera is not the one that was calibrated. Choose the other one, or set it up again.</source>
        <translation>Diese Kamera ist nicht die eingemessene. Wähl die andere oder richte sie neu ein.</translation>
    </message>
    <message>
        <source>The camera cannot be used.</source>
        <translation>Die Kamera kann nicht benutzt werden.</translation>
    </message>
    <message>
        <source>You ended the measurement before it could answer.</source>
        <translation>Du hast die Messung beendet, bevor sie antworten konnte.</translation>
    </message>
    <message>
        <source>The measurement can answer, so no more trials are needed.</source>
        <translation>Die Messung kann antworten, es braucht keine weiteren Durchgänge.</translation>
    </message>
    <message>
        <source>More trials today would hardly make the answer clearer.</source>
        <translation>Mehr Durchgänge würden die Antwort heute kaum klarer machen.</translation>
    </message>
    <message>
        <source>That is enough for today.</source>
        <translation>Das ist genug für heute.</translation>
    </message>
    <message>
        <source>Look at the camera</source>
        <translation>Schau zur Kamera</translation>
    </message>
    <message>
        <source>Looking for your eyes ...</source>
        <translation>Deine Augen werden gesucht ...</translation>
    </message>
    <message>
        <source>Lean back</source>
        <translation>Lehn dich zurück</translation>
    </message>
    <message>
        <source>Until the letter is as far away as your elbow from your fingertips.</source>
        <translation>Bis der Buchstabe so weit weg ist wie dein Ellbogen von den Fingerspitzen.</translation>
    </message>
    <message>
        <source>Lean back, please.</source>
        <translation>Bitte zurücklehnen.</translation>
    </message>
    <message>
        <source>Hold still</source>
        <translation>Halt still</translation>
    </message>
    <message>
        <source>Look at the letter. Both eyes open.</source>
        <translation>Schau auf den Buchstaben. Beide Augen offen.</translation>
    </message>
    <message>
        <source>Hold still and look at the letter.</source>
        <translation>Halt still und schau auf den Buchstaben.</translation>
    </message>
    <message>
        <source>Come slowly nearer</source>
        <translation>Komm langsam näher</translation>
    </message>
    <message>
        <source>Any key as soon as you see two. Blurred does not matter.</source>
        <translation>Irgendeine Taste, sobald du zwei siehst. Unscharf ist egal.</translation>
    </message>
    <message>
        <source>Come slowly nearer. Any key when you see two.</source>
        <translation>Komm langsam näher. Irgendeine Taste, wenn du zwei siehst.</translation>
    </message>
    <message>
        <source>That is as near as it goes</source>
        <translation>Näher geht es nicht</translation>
    </message>
    <message>
        <source>Still one? Then go back. Two? Press any key now.</source>
        <translation>Noch einer? Dann geh zurück. Zwei? Drück jetzt irgendeine Taste.</translation>
    </message>
    <message>
        <source>That is as near as it goes. If you see one, go back.</source>
        <translation>Näher geht es nicht. Wenn du einen siehst, geh zurück.</translation>
    </message>
    <message>
        <source>Now slowly back</source>
        <translation>Jetzt langsam zurück</translation>
    </message>
    <message>
        <source>Any key as soon as it is one again.</source>
        <translation>Irgendeine Taste, sobald es wieder einer ist.</translation>
    </message>
    <message>
        <source>Two. Now slowly back. Any key when it is one again.</source>
        <translation>Zwei. Jetzt langsam zurück. Irgendeine Taste, wenn es wieder einer ist.</translation>
    </message>
    <message>
        <source>Thank you</source>
        <translation>Danke</translation>
    </message>
    <message>
        <source>Hold still for a moment.</source>
        <translation>Halt einen Moment still.</translation>
    </message>
    <message>
        <source>Thank you.</source>
        <translation>Danke.</translation>
    </message>
    <message>
        <source>It stayed one all the way. That counts too.</source>
        <translation>Es blieb durchgehend einer. Auch das zählt.</translation>
    </message>
    <message>
        <source>That one counts.</source>
        <translation>Das zählt.</translation>
    </message>
    <message>
        <source>Look far away, out of the window.</source>
        <translation>Schau in die Ferne, aus dem Fenster.</translation>
    </message>
    <message>
        <source>Rest your eyes</source>
        <translation>Ruh deine Augen aus</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Lean back and rest.</source>
        <translation>Lehn dich zurück und ruh dich aus.</translation>
    </message>
    <message>
        <source>Done. Lean back and rest.</source>
        <translation>Fertig. Lehn dich zurück und ruh dich aus.</translation>
    </message>
    <message>
        <source>Good pace</source>
        <translation>Gutes Tempo</translation>
    </message>
    <message>
        <source>Slower, please</source>
        <translation>Langsamer, bitte</translation>
    </message>
    <message>
        <source>A little nearer</source>
        <translation>Etwas näher</translation>
    </message>
    <message>
        <source>A little farther back</source>
        <translation>Etwas weiter zurück</translation>
    </message>
    <message>
        <source>Come nearer</source>
        <translation>Komm näher</translation>
    </message>
    <message>
        <source>Go back</source>
        <translation>Geh zurück</translation>
    </message>
    <message>
        <source>The camera does not see the card. Turn its pattern to the camera.</source>
        <translation>Die Kamera sieht die Karte nicht. Halt das Muster zur Kamera.</translation>
    </message>
    <message>
        <source>Your professional has set that one aside.</source>
        <translation>Diesen Durchgang hat die Fachperson nicht gezählt.</translation>
    </message>
    <message>
        <source>Something is missing: a file, or a part of this program.</source>
        <translation>Etwas fehlt: eine Datei oder ein Teil dieses Programms.</translation>
    </message>
    <message>
        <source>A file cannot be read. It is damaged, or not one that this program knows.</source>
        <translation>Eine Datei lässt sich nicht lesen. Sie ist beschädigt oder diesem Programm unbekannt.</translation>
    </message>
    <message>
        <source>A value was refused. Look at what was entered, or try again.</source>
        <translation>Eine Angabe wurde nicht angenommen. Prüfe, was eingegeben ist, oder versuche es noch einmal.</translation>
    </message>
    <message>
        <source>Two things do not belong together: another camera, another person, or a file of a newer version of this program.</source>
        <translation>Zwei Dinge gehören nicht zusammen: eine andere Kamera, eine andere Person oder eine Datei einer neueren Version dieses Programms.</translation>
    </message>
    <message>
        <source>It could not be written. Make room on the disk, or check whether the folder may be written to.</source>
        <translation>Das Speichern gelang nicht. Schaffe Platz auf der Festplatte, oder prüfe, ob in den Ordner geschrieben werden darf.</translation>
    </message>
    <message>
        <source>Another window of this program is writing just now, or a device is busy. Try again in a moment.</source>
        <translation>Ein anderes Fenster dieses Programms schreibt gerade, oder ein Gerät ist belegt. Versuche es gleich noch einmal.</translation>
    </message>
    <message>
        <source>What was seen is not enough for that. Try once more.</source>
        <translation>Was zu sehen war, reicht dafür nicht. Versuche es noch einmal.</translation>
    </message>
    <message>
        <source>Hold the card up</source>
        <translation>Halte die Karte hoch</translation>
    </message>
    <message>
        <source>Pattern to the camera, the letter to your eyes, your eyes above it.</source>
        <translation>Muster zur Kamera, Buchstabe zu deinen Augen, deine Augen darüber.</translation>
    </message>
    <message>
        <source>Card farther away</source>
        <translation>Karte weiter weg</translation>
    </message>
    <message>
        <source>Until it is about 30 cm from your eyes.</source>
        <translation>Bis sie etwa 30 cm von deinen Augen entfernt ist.</translation>
    </message>
    <message>
        <source>Move the card farther away, please.</source>
        <translation>Halte die Karte bitte weiter weg.</translation>
    </message>
    <message>
        <source>Card slowly nearer</source>
        <translation>Karte langsam näher</translation>
    </message>
    <message>
        <source>Bring the card slowly nearer. Any key when you see two.</source>
        <translation>Führe die Karte langsam näher. Irgendeine Taste, wenn du zwei siehst.</translation>
    </message>
    <message>
        <source>Still one? Then move the card back. Two? Press any key now.</source>
        <translation>Immer noch eins? Dann die Karte zurück. Zwei? Jetzt irgendeine Taste drücken.</translation>
    </message>
    <message>
        <source>That is as near as it goes. If you see one, move the card back.</source>
        <translation>Näher geht es nicht. Wenn du eins siehst, führe die Karte zurück.</translation>
    </message>
    <message>
        <source>Card slowly back</source>
        <translation>Karte langsam zurück</translation>
    </message>
    <message>
        <source>Two. Move the card slowly back. Any key when it is one again.</source>
        <translation>Zwei. Führe die Karte langsam zurück. Irgendeine Taste, wenn es wieder eins ist.</translation>
    </message>
    <message>
        <source>It is too dark to measure. Put more light on the face, from the front.</source>
        <translation>Zum Messen ist es zu dunkel. Mehr Licht auf das Gesicht, von vorn, bitte.</translation>
    </message>
    <message>
        <source>Your eyes are only half open. Open them a little wider, please.</source>
        <translation>Deine Augen sind nur halb offen. Mach sie bitte etwas weiter auf.</translation>
    </message>
    <message>
        <source>Too far for the camera. Come a little nearer.</source>
        <translation>Zu weit weg für die Kamera. Komm etwas näher.</translation>
    </message>
</context>
<context>
    <name>nearpoint::AboutPage</name>
    <message>
        <source>What is measured</source>
        <translation>Was gemessen wird</translation>
    </message>
    <message>
        <source>Both eyes turn inward to look at something near. From some distance on they cannot any more, and you see two. That distance is the near point.</source>
        <translation>Um etwas Nahes anzusehen, drehen sich beide Augen nach innen. Ab einer gewissen Nähe schaffen sie das nicht mehr, und du siehst doppelt. Diese Entfernung ist der Nahpunkt.</translation>
    </message>
    <message>
        <source>What this does</source>
        <translation>Was das Programm tut</translation>
    </message>
    <message>
        <source>The camera measures how far your eyes are from the target, and how they turn.</source>
        <translation>Die Kamera misst, wie weit deine Augen vom Buchstaben entfernt sind und wie sie sich drehen.</translation>
    </message>
    <message>
        <source>You say when you see two, and when it is one again. That takes about five minutes.</source>
        <translation>Du sagst, wann du doppelt siehst und wann es wieder einer ist. Das dauert etwa fünf Minuten.</translation>
    </message>
    <message>
        <source>What it is not</source>
        <translation>Was es nicht ist</translation>
    </message>
    <message>
        <source>It is a screening measurement and never a diagnosis. One number does not tell whether something is wrong.</source>
        <translation>Es ist eine Vorprüfung und nie eine Diagnose. Eine Zahl allein sagt nicht, ob etwas nicht stimmt.</translation>
    </message>
    <message>
        <source>It does not replace an eye examination, and it does not check how sharp you see.</source>
        <translation>Es ersetzt keine Augenuntersuchung und prüft nicht, wie scharf du siehst.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>No picture of your face is kept, and of your eyes only if you agree to that apart. Numbers are kept, on this computer.</source>
        <translation>Von deinem Gesicht wird kein Bild aufbewahrt, und von deinen Augen nur, wenn du eigens einwilligst. Zahlen werden aufbewahrt, auf diesem Rechner.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CameraPage</name>
    <message>
        <source>Can the camera see you well?</source>
        <translation>Sieht dich die Kamera gut?</translation>
    </message>
    <message>
        <source>Sit as you would for reading, light from the front, glasses on if you read with them.</source>
        <translation>Setz dich hin wie zum Lesen, Licht von vorn, mit Brille, wenn du damit liest.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Camera</source>
        <translation>Kamera</translation>
    </message>
    <message>
        <source>no camera found</source>
        <translation>keine Kamera gefunden</translation>
    </message>
    <message>
        <source>Try again</source>
        <translation>Noch einmal versuchen</translation>
    </message>
    <message>
        <source>What will you look at?</source>
        <translation>Wohin wirst du schauen?</translation>
    </message>
    <message>
        <source>A small printed letter, fixed right under the camera (better)</source>
        <translation>Auf einen kleinen gedruckten Buchstaben direkt unter der Kamera (besser)</translation>
    </message>
    <message>
        <source>A letter about 1 mm high on a slip of paper: fine print makes your eyes work as they do when you read.</source>
        <translation>Ein etwa 1 mm hoher Buchstabe auf einem Zettel: Bei feinem Druck arbeiten die Augen wie beim Lesen.</translation>
    </message>
    <message>
        <source>The letter at the top of the screen</source>
        <translation>Auf den Buchstaben oben auf dem Bildschirm</translation>
    </message>
    <message>
        <source>Coarser than print and a little away from the camera: less exact by some millimetres.</source>
        <translation>Gröber als gedruckt und etwas weiter weg von der Kamera: um einige Millimeter ungenauer.</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>Your eyes are seen.</source>
        <translation>Deine Augen sind zu sehen.</translation>
    </message>
    <message>
        <source>Too dark: turn on a lamp in front of you.</source>
        <translation>Zu dunkel: Schalte vor dir eine Lampe an.</translation>
    </message>
    <message>
        <source>Too bright: turn away from the window or lamp.</source>
        <translation>Zu hell: Dreh dich vom Fenster oder von der Lampe weg.</translation>
    </message>
    <message>
        <source>The light is good.</source>
        <translation>Das Licht ist gut.</translation>
    </message>
    <message>
        <source>About %1 away</source>
        <translation>Etwa %1 entfernt</translation>
    </message>
    <message>
        <source>%1: lean back a little.</source>
        <translation>%1: Lehn dich etwas zurück.</translation>
    </message>
    <message>
        <source>%1: come a little nearer.</source>
        <translation>%1: Komm etwas näher.</translation>
    </message>
    <message>
        <source>%1: good.</source>
        <translation>%1: gut.</translation>
    </message>
    <message>
        <source>no picture</source>
        <translation>kein Bild</translation>
    </message>
    <message>
        <source>You can go on and come back later.</source>
        <translation>Du kannst weitergehen und später hierher zurückkommen.</translation>
    </message>
    <message>
        <source>The letter on the printed card, which I bring to my nose</source>
        <translation>Der Buchstabe auf der gedruckten Karte, die ich zur Nase führe</translation>
    </message>
    <message>
        <source>The printed letter is from the sheet</source>
        <translation>Der Buchstabe ist der vom Blatt</translation>
    </message>
    <message>
        <source>Then its finest detail is known and stands in your results: %1 mm.</source>
        <translation>Dann ist sein feinstes Detail bekannt und steht in deinen Ergebnissen: %1 mm.</translation>
    </message>
    <message>
        <source>For whoever cannot lean in. Your face stays where it is; the card needs its touch of the nose, under &quot;Calibration by the card&quot;.</source>
        <translation>Für alle, die sich nicht vorbeugen können. Dein Gesicht bleibt, wo es ist; die Karte muss einmal die Nase berührt haben, unter „Einmessen mit der Karte“.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardCameraPage</name>
    <message>
        <source>The camera, by the card</source>
        <translation>Die Kamera, mit der Karte</translation>
    </message>
    <message>
        <source>Hold the card still before the camera, a hand&apos;s length away, each time in another tilt.</source>
        <translation>Halte die Karte eine Handlänge vor der Kamera still, jedes Mal anders geneigt.</translation>
    </message>
    <message>
        <source>%v of %m views</source>
        <translation>%v von %m Ansichten</translation>
    </message>
    <message>
        <source>Views taken</source>
        <translation>Aufgenommene Ansichten</translation>
    </message>
    <message>
        <source>These views will do</source>
        <translation>Diese Ansichten genügen</translation>
    </message>
    <message>
        <source>From the beginning</source>
        <translation>Von vorn</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>Which card</source>
        <translation>Welche Karte</translation>
    </message>
    <message>
        <source>The printed card (better)</source>
        <translation>Die gedruckte Karte (besser)</translation>
    </message>
    <message>
        <source>A bank, health or library card</source>
        <translation>Eine Bank-, Gesundheits- oder Bibliothekskarte</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>Thank you</source>
        <translation>Danke</translation>
    </message>
    <message>
        <source>One moment: the views are being compared.</source>
        <translation>Einen Moment: Die Ansichten werden verglichen.</translation>
    </message>
    <message>
        <source>That did not work</source>
        <translation>Das hat nicht geklappt</translation>
    </message>
    <message>
        <source>✓ The camera is measured</source>
        <translation>✓ Die Kamera ist vermessen</translation>
    </message>
    <message>
        <source>Its scale is known to %1.</source>
        <translation>Ihr Maßstab ist auf %1 bekannt.</translation>
    </message>
    <message>
        <source>Its scale is known to %1. More views in more tilts would sharpen it.</source>
        <translation>Ihr Maßstab ist auf %1 bekannt. Mehr Ansichten mit mehr Neigung würden ihn schärfen.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>no picture</source>
        <translation>kein Bild</translation>
    </message>
    <message>
        <source>You can go on and come back later.</source>
        <translation>Du kannst weitermachen und später wiederkommen.</translation>
    </message>
    <message>
        <source>Skipped, every distance may be off by about 7 %: 6 mm at 8 cm.</source>
        <translation>Übersprungen kann jeder Abstand um etwa 7 % falsch sein: 6 mm bei 8 cm.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardFacePage</name>
    <message>
        <source>Your face, by the card</source>
        <translation>Dein Gesicht, mit der Karte</translation>
    </message>
    <message>
        <source>Lay the printed card flat on your forehead, pattern to the camera, eyes free. Look into the lens and turn your head slowly to one side and to the other.</source>
        <translation>Lege die gedruckte Karte flach auf deine Stirn, das Muster zur Kamera, die Augen frei. Schau in die Linse und drehe den Kopf langsam zur einen und zur anderen Seite.</translation>
    </message>
    <message>
        <source>Pictures taken</source>
        <translation>Aufgenommene Bilder</translation>
    </message>
    <message>
        <source>%v of %m pictures</source>
        <translation>%v von %m Bildern</translation>
    </message>
    <message>
        <source>How far the head was turned</source>
        <translation>Wie weit der Kopf gedreht wurde</translation>
    </message>
    <message>
        <source>turned by %v of %m degrees</source>
        <translation>um %v von %m Grad gedreht</translation>
    </message>
    <message>
        <source>It also works under the nose, on the upper lip. A child needs a helper&apos;s hand. No picture is kept.</source>
        <translation>Es geht auch unter der Nase, auf der Oberlippe. Ein Kind braucht eine helfende Hand. Kein Bild wird aufgehoben.</translation>
    </message>
    <message>
        <source>From the beginning</source>
        <translation>Von vorn</translation>
    </message>
    <message>
        <source>Keep it all the same</source>
        <translation>Trotzdem behalten</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>Not yet</source>
        <translation>Noch nicht</translation>
    </message>
    <message>
        <source>✓ Good</source>
        <translation>✓ Gut</translation>
    </message>
    <message>
        <source>Now turn your head slowly to both sides, the card resting on it.</source>
        <translation>Drehe jetzt den Kopf langsam nach beiden Seiten; die Karte bleibt darauf liegen.</translation>
    </message>
    <message>
        <source>Go on until both bars are full.</source>
        <translation>Mach weiter, bis beide Balken voll sind.</translation>
    </message>
    <message>
        <source>Thank you</source>
        <translation>Danke</translation>
    </message>
    <message>
        <source>One moment: the pictures are being compared.</source>
        <translation>Einen Moment: Die Bilder werden verglichen.</translation>
    </message>
    <message>
        <source>That did not fit together</source>
        <translation>Das passte nicht zusammen</translation>
    </message>
    <message>
        <source>Card and head must move as one: hold the card still on the skin, look into the lens all the time, and repeat.</source>
        <translation>Karte und Kopf müssen sich wie eins bewegen: Halte die Karte fest auf der Haut, schau die ganze Zeit in die Linse und wiederhole es.</translation>
    </message>
    <message>
        <source>Please repeat it once</source>
        <translation>Bitte wiederhole es einmal</translation>
    </message>
    <message>
        <source>If it stays and the card is right, it can be kept: people differ.</source>
        <translation>Bleibt es dabei und stimmt die Karte, kann es behalten werden: Menschen sind verschieden.</translation>
    </message>
    <message>
        <source>✓ Your face is measured</source>
        <translation>✓ Dein Gesicht ist vermessen</translation>
    </message>
    <message>
        <source>Iris %1, pupils %2 apart, outer eye corners %3.</source>
        <translation>Iris %1, Pupillenabstand %2, äußere Augenwinkel %3.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>no picture</source>
        <translation>kein Bild</translation>
    </message>
    <message>
        <source>You can go on and come back later.</source>
        <translation>Du kannst weitermachen und später wiederkommen.</translation>
    </message>
    <message>
        <source>Go on without measuring it</source>
        <translation>Weiter, ohne zu messen</translation>
    </message>
    <message>
        <source>The printed card was not measured</source>
        <translation>Die gedruckte Karte wurde nicht gemessen</translation>
    </message>
    <message>
        <source>Measure the print</source>
        <translation>Den Druck messen</translation>
    </message>
    <message>
        <source>A print at 94 % makes every length 6 % too large. Measuring it takes a ruler or a bank card and half a minute. Without it every length counts as known to 4 % only, and your profile says so.</source>
        <translation>Ein Druck mit 94 % macht jede Länge um 6 % zu groß. Das Messen braucht ein Lineal oder eine Bankkarte und eine halbe Minute. Ohne gilt jede Länge nur als auf 4 % bekannt, und so steht es in deinem Profil.</translation>
    </message>
    <message>
        <source>Skipped, the lengths of an average face are used: plus or minus 4 % instead of 1 %.</source>
        <translation>Übersprungen gelten die Längen eines durchschnittlichen Gesichts: plus oder minus 4 % statt 1 %.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardPage</name>
    <message>
        <source>How exact shall it be?</source>
        <translation>Wie genau soll es sein?</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>A card makes it exact. Each part takes one or two minutes, each can be skipped, and none has to be done today.</source>
        <translation>Eine Karte macht es genau. Jeder Teil dauert ein bis zwei Minuten, jeder lässt sich überspringen, und keiner muss heute sein.</translation>
    </message>
    <message>
        <source>What the card measures</source>
        <translation>Was die Karte misst</translation>
    </message>
    <message>
        <source>1. The camera</source>
        <translation>1. Die Kamera</translation>
    </message>
    <message>
        <source>✓ %1 Its scale is known to %2.</source>
        <translation>✓ %1 Der Maßstab ist auf %2 bekannt.</translation>
    </message>
    <message>
        <source>→ Not measured. Without it every distance may be off by about 7 %: 6 mm at 8 cm, always in the same direction.</source>
        <translation>→ Nicht gemessen. Ohne das kann jeder Abstand um etwa 7 % falsch sein: 6 mm bei 8 cm, immer in derselben Richtung.</translation>
    </message>
    <message>
        <source>2. Your face</source>
        <translation>2. Dein Gesicht</translation>
    </message>
    <message>
        <source>→ Not measured. The lengths of an average face are used: plus or minus 4 % instead of 1 %.</source>
        <translation>→ Nicht gemessen. Es gelten die Längen eines durchschnittlichen Gesichts: plus oder minus 4 % statt 1 %.</translation>
    </message>
    <message>
        <source>→ Not measured: plus or minus 4 % instead of 1 %. The camera comes first.</source>
        <translation>→ Nicht gemessen: plus oder minus 4 % statt 1 %. Zuerst kommt die Kamera.</translation>
    </message>
    <message>
        <source>3. The place of the letter</source>
        <translation>3. Die Stelle des Buchstabens</translation>
    </message>
    <message>
        <source>✓ %1</source>
        <translation>✓ %1</translation>
    </message>
    <message>
        <source>→ Not measured. Some millimetres of every distance are a guess.</source>
        <translation>→ Nicht gemessen. Einige Millimeter jedes Abstands sind geschätzt.</translation>
    </message>
    <message>
        <source>Without the card your results can be compared with each other from day to day, but less surely with the usual limit. The band of your result is that much wider.</source>
        <translation>Ohne die Karte lassen sich deine Ergebnisse von Tag zu Tag miteinander vergleichen, aber weniger sicher mit der üblichen Grenze. Der Bereich deines Ergebnisses ist um so viel breiter.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>The printed card</source>
        <translation>Die gedruckte Karte</translation>
    </message>
    <message>
        <source>Print the sheet at 100 %, not fitted to the page. Cut the card out, fold it, and glue it around an old bank card so that it is stiff.</source>
        <translation>Drucke den Bogen mit 100 %, nicht an die Seite angepasst. Schneide die Karte aus, falte sie und klebe sie um eine alte Bankkarte, damit sie steif ist.</translation>
    </message>
    <message>
        <source>Save the sheet to print ...</source>
        <translation>Bogen zum Drucken speichern ...</translation>
    </message>
    <message>
        <source>Save the sheet to print</source>
        <translation>Bogen zum Drucken speichern</translation>
    </message>
    <message>
        <source>The sheet could not be written there. Choose another folder.</source>
        <translation>Der Bogen konnte dort nicht geschrieben werden. Wähle einen anderen Ordner.</translation>
    </message>
    <message>
        <source>✓ Saved as %1.</source>
        <translation>✓ Gespeichert als %1.</translation>
    </message>
    <message>
        <source>4. The size of this screen</source>
        <translation>4. Die Größe dieses Bildschirms</translation>
    </message>
    <message>
        <source>✓ Measured. The exercise and a letter on the screen use it.</source>
        <translation>✓ Gemessen. Die Übung und ein Buchstabe auf dem Bildschirm richten sich danach.</translation>
    </message>
    <message>
        <source>5. The touch of the nose</source>
        <translation>5. Die Berührung der Nase</translation>
    </message>
    <message>
        <source>✓ Measured. A distance to the card is known to %1 mm.</source>
        <translation>✓ Gemessen. Ein Abstand zur Karte ist auf %1 mm bekannt.</translation>
    </message>
    <message>
        <source>→ Not measured. Only a card that you bring to your nose needs it; without it its distance may be wrong by 5 mm, or by 20 mm without your face.</source>
        <translation>→ Nicht gemessen. Nur eine Karte, die du zur Nase führst, braucht das; ohne kann ihr Abstand um 5 mm falsch sein, ohne dein Gesicht um 20 mm.</translation>
    </message>
    <message>
        <source>→ Not measured. Only a card that you bring to your nose needs it. The camera comes first.</source>
        <translation>→ Nicht gemessen. Nur eine Karte, die du zur Nase führst, braucht das. Zuerst kommt die Kamera.</translation>
    </message>
    <message>
        <source>✓ %1 Its scale is known to %2: the print was not measured.</source>
        <translation>✓ %1 Der Maßstab ist auf %2 bekannt: Der Druck wurde nicht gemessen.</translation>
    </message>
    <message>
        <source>How large was it printed?</source>
        <translation>Wie groß wurde sie gedruckt?</translation>
    </message>
    <message>
        <source>✓ %1 It is %2 of its size.</source>
        <translation>✓ %1 Sie hat %2 ihrer Größe.</translation>
    </message>
    <message>
        <source>→ Not measured. A print that was made smaller would make everything too large, and no picture of it shows that. A ruler or a bank card tells.</source>
        <translation>→ Nicht gemessen. Ein verkleinerter Druck würde alles zu groß machen, und kein Bild davon zeigt das. Ein Lineal oder eine Bankkarte sagt es.</translation>
    </message>
    <message>
        <source>✓ Measured. A distance to the card is known to %1 mm and 4 %: the print was not measured.</source>
        <translation>✓ Gemessen. Ein Abstand zur Karte ist auf %1 mm und 4 % bekannt: Der Druck wurde nicht gemessen.</translation>
    </message>
    <message>
        <source>→ Not measured. Only the exercise and a letter on the screen need it; without it they may be %1 % too large or too small.</source>
        <translation>→ Nicht gemessen. Nur die Übung und ein Buchstabe auf dem Bildschirm brauchen das; ohne können sie %1 % zu groß oder zu klein sein.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardPrintPage</name>
    <message>
        <source>How large was the card printed?</source>
        <translation>Wie groß wurde die Karte gedruckt?</translation>
    </message>
    <message>
        <source>Printers like to shrink a page. A print at 94 % would make every length 6 % too large, and no picture of the card alone shows it. One of two ways tells.</source>
        <translation>Drucker verkleinern eine Seite gern. Ein Druck mit 94 % würde jede Länge um 6 % zu groß machen, und kein Bild der Karte allein zeigt das. Einer von zwei Wegen sagt es.</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>✓ Measured: %1 of its size.</source>
        <translation>✓ Gemessen: %1 ihrer Größe.</translation>
    </message>
    <message>
        <source>Another print is to be measured again.</source>
        <translation>Ein anderer Druck muss neu gemessen werden.</translation>
    </message>
    <message>
        <source>With a ruler</source>
        <translation>Mit einem Lineal</translation>
    </message>
    <message>
        <source>How long is the line of 100 mm on your sheet? To half a millimetre.</source>
        <translation>Wie lang ist die Linie von 100 mm auf deinem Blatt? Auf einen halben Millimeter.</translation>
    </message>
    <message>
        <source>Length of the line by your ruler, in millimetres</source>
        <translation>Länge der Linie nach deinem Lineal, in Millimetern</translation>
    </message>
    <message>
        <source>Keep this</source>
        <translation>Behalten</translation>
    </message>
    <message>
        <source>With a bank card and the camera</source>
        <translation>Mit Bankkarte und Kamera</translation>
    </message>
    <message>
        <source>Lay a bank card on its place on the sheet, before you cut anything, and let the camera look squarely at both.</source>
        <translation>Lege eine Bankkarte auf ihren Platz auf dem Blatt, bevor du etwas ausschneidest, und lass die Kamera gerade auf beide blicken.</translation>
    </message>
    <message>
        <source>Look</source>
        <translation>Hinschauen</translation>
    </message>
    <message>
        <source>%v of %m pictures</source>
        <translation>%v von %m Bildern</translation>
    </message>
    <message>
        <source>Pictures taken</source>
        <translation>Aufgenommene Bilder</translation>
    </message>
    <message>
        <source>The camera itself must be measured first.</source>
        <translation>Zuerst muss die Kamera selbst gemessen werden.</translation>
    </message>
    <message>
        <source>Type what the ruler shows, in millimetres.</source>
        <translation>Gib ein, was das Lineal zeigt, in Millimetern.</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>From the beginning</source>
        <translation>Von vorn</translation>
    </message>
    <message>
        <source>✓ Good</source>
        <translation>✓ Gut</translation>
    </message>
    <message>
        <source>no picture</source>
        <translation>kein Bild</translation>
    </message>
    <message>
        <source>That was not clear enough.</source>
        <translation>Das war nicht deutlich genug.</translation>
    </message>
    <message>
        <source>Bring the sheet nearer and hold it square to the camera, or take a ruler.</source>
        <translation>Bringe das Blatt näher und halte es gerade zur Kamera, oder nimm ein Lineal.</translation>
    </message>
    <message>
        <source>This print cannot be used</source>
        <translation>Dieser Druck ist nicht zu gebrauchen</translation>
    </message>
    <message>
        <source>The face was measured before; measure it again, and this enters.</source>
        <translation>Das Gesicht wurde vorher gemessen; miss es noch einmal, dann geht das ein.</translation>
    </message>
    <message>
        <source>What is measured with the card is put right by it.</source>
        <translation>Was mit der Karte gemessen wird, wird danach berichtigt.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Skipped, every length that the card measures counts as known to 4 % only.</source>
        <translation>Übersprungen gilt jede Länge, die die Karte misst, nur als auf 4 % bekannt.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardScreenPage</name>
    <message>
        <source>The size of this screen</source>
        <translation>Die Größe dieses Bildschirms</translation>
    </message>
    <message>
        <source>Hold a bank card against the screen and make the outline as large as the card with the arrow keys, with Shift in larger steps. Then press Return.</source>
        <translation>Halte eine Bankkarte an den Bildschirm und mach den Umriss mit den Pfeiltasten so groß wie die Karte, mit der Umschalttaste in größeren Schritten. Drück dann die Eingabetaste.</translation>
    </message>
    <message>
        <source>It fits</source>
        <translation>Passt</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>✓ Kept. By the card this screen is %1 wide; the system says %2. The card is believed. If it was not a bank card, do it once more.</source>
        <translation>✓ Übernommen. Nach der Karte ist dieser Bildschirm %1 breit; das System sagt %2. Die Karte gilt. War es keine Bankkarte, bitte noch einmal.</translation>
    </message>
    <message>
        <source>Skipped, figures and letters on the screen may be %1 % too large or too small.</source>
        <translation>Übersprungen können Figuren und Buchstaben auf dem Bildschirm %1 % zu groß oder zu klein sein.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardTargetPage</name>
    <message>
        <source>The place of the letter</source>
        <translation>Die Stelle des Buchstabens</translation>
    </message>
    <message>
        <source>The distance is measured to the letter on the screen. How far is it from the lens?</source>
        <translation>Gemessen wird der Abstand zum Buchstaben auf dem Bildschirm. Wie weit ist er von der Linse weg?</translation>
    </message>
    <message>
        <source>The distance is measured to the printed letter. How far is it from the lens?</source>
        <translation>Gemessen wird der Abstand zum gedruckten Buchstaben. Wie weit ist er von der Linse weg?</translation>
    </message>
    <message>
        <source>Measure with a ruler from the middle of the lens to the middle of the letter. Without a ruler: a bank card is 54 mm high and 86 mm wide.</source>
        <translation>Miss mit einem Lineal von der Mitte der Linse bis zur Mitte des Buchstabens. Ohne Lineal: Eine Bankkarte ist 54 mm hoch und 86 mm breit.</translation>
    </message>
    <message>
        <source>Below the lens</source>
        <translation>Unter der Linse</translation>
    </message>
    <message>
        <source>To the right of the lens, as you see it (left: minus)</source>
        <translation>Rechts von der Linse, von dir aus gesehen (links: minus)</translation>
    </message>
    <message>
        <source>Keep this</source>
        <translation>Das behalten</translation>
    </message>
    <message>
        <source>Skipped, some millimetres of every distance are a guess.</source>
        <translation>Übersprungen: Einige Millimeter jedes Abstands bleiben geschätzt.</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>✓ Kept: known to about %1 mm.</source>
        <translation>✓ Behalten: auf etwa %1 mm bekannt.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardTiltDrawing</name>
    <message>
        <source>Drawing of how to hold the card</source>
        <translation>Zeichnung, wie die Karte zu halten ist</translation>
    </message>
</context>
<context>
    <name>nearpoint::CardTouchPage</name>
    <message>
        <source>The touch of the nose</source>
        <translation>Die Berührung der Nase</translation>
    </message>
    <message>
        <source>Only for a card that you bring to your nose: there its distance is known, and what is wrong alike in all distances can be taken away.</source>
        <translation>Nur für eine Karte, die du zur Nase führst: Dort ist ihr Abstand bekannt, und was an allen Abständen gleich falsch ist, lässt sich abziehen.</translation>
    </message>
    <message>
        <source>Skipped, a distance to the card may be wrong by 5 mm for each per cent by which the scale of your face is: 5 mm with a measured face, 20 mm without. No picture is kept.</source>
        <translation>Übersprungen, kann ein Abstand zur Karte um 5 mm falsch sein für jedes Prozent, um das der Maßstab deines Gesichts falsch ist: 5 mm mit gemessenem Gesicht, 20 mm ohne. Es wird kein Bild aufgehoben.</translation>
    </message>
    <message>
        <source>From the beginning</source>
        <translation>Von vorn</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>1. Without the card</source>
        <translation>1. Ohne die Karte</translation>
    </message>
    <message>
        <source>Look into the lens, the card out of the picture.</source>
        <translation>Schau ins Objektiv, die Karte ist nicht im Bild.</translation>
    </message>
    <message>
        <source>Look into the lens, without the card.</source>
        <translation>Schau ins Objektiv, ohne die Karte.</translation>
    </message>
    <message>
        <source>2. Hold the card up</source>
        <translation>2. Halte die Karte hoch</translation>
    </message>
    <message>
        <source>Below your eyes, at arm&apos;s length, its pattern to the camera.</source>
        <translation>Unter deine Augen, auf Armlänge, das Muster zur Kamera.</translation>
    </message>
    <message>
        <source>Now hold the card up below your eyes, at arm&apos;s length.</source>
        <translation>Halte jetzt die Karte unter deine Augen, auf Armlänge.</translation>
    </message>
    <message>
        <source>3. Lay it on your nose</source>
        <translation>3. Lege sie auf deine Nase</translation>
    </message>
    <message>
        <source>Bring the card slowly to your face, lay its upper edge on the bridge of your nose, and press any key when it rests there.</source>
        <translation>Führe die Karte langsam zum Gesicht, lege ihre obere Kante auf deinen Nasenrücken und drücke irgendeine Taste, wenn sie dort ruht.</translation>
    </message>
    <message>
        <source>Now lay its upper edge on the bridge of your nose. Any key when it rests.</source>
        <translation>Lege jetzt ihre obere Kante auf deinen Nasenrücken. Irgendeine Taste, wenn sie ruht.</translation>
    </message>
    <message>
        <source>Keep it there</source>
        <translation>Lass sie dort</translation>
    </message>
    <message>
        <source>Still, until you hear the tone end.</source>
        <translation>Still, bis der Ton aufhört.</translation>
    </message>
    <message>
        <source>Keep it there.</source>
        <translation>Lass sie dort.</translation>
    </message>
    <message>
        <source>→ Take the card away first.</source>
        <translation>→ Nimm zuerst die Karte weg.</translation>
    </message>
    <message>
        <source>✓ Card and eyes are seen.</source>
        <translation>✓ Karte und Augen sind zu sehen.</translation>
    </message>
    <message>
        <source>✓ Your eyes are seen.</source>
        <translation>✓ Deine Augen sind zu sehen.</translation>
    </message>
    <message>
        <source>Once more: hold the card up first, then lay it on the bridge of your nose, press, and keep it there for two seconds, in good light.</source>
        <translation>Noch einmal: Halte die Karte zuerst hoch, lege sie dann auf den Nasenrücken, drücke und lass sie zwei Sekunden dort, in gutem Licht.</translation>
    </message>
    <message>
        <source>That did not work</source>
        <translation>Das hat nicht geklappt</translation>
    </message>
    <message>
        <source>A distance to the card is now known to %1 mm.</source>
        <translation>Ein Abstand zur Karte ist jetzt auf %1 mm bekannt.</translation>
    </message>
    <message>
        <source>✓ The touch is measured</source>
        <translation>✓ Die Berührung ist gemessen</translation>
    </message>
    <message>
        <source>Thank you. You can take the card away.</source>
        <translation>Danke. Du kannst die Karte wegnehmen.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>no picture</source>
        <translation>kein Bild</translation>
    </message>
    <message>
        <source>You can go on and come back later.</source>
        <translation>Du kannst weitermachen und später wiederkommen.</translation>
    </message>
    <message>
        <source>Go on without measuring it</source>
        <translation>Weiter, ohne zu messen</translation>
    </message>
    <message>
        <source>The printed card was not measured</source>
        <translation>Die gedruckte Karte wurde nicht gemessen</translation>
    </message>
    <message>
        <source>Measure the print</source>
        <translation>Den Druck messen</translation>
    </message>
    <message>
        <source>This card has another shape</source>
        <translation>Diese Karte hat eine andere Form</translation>
    </message>
    <message>
        <source>Its pattern is stretched, or the card is not the one of the sheet. Print the sheet at 100 %, not fitted to the page, and make the card from it.</source>
        <translation>Ihr Muster ist verzerrt, oder es ist nicht die Karte vom Blatt. Drucke das Blatt mit 100 %, nicht an die Seite angepasst, und mach die Karte daraus.</translation>
    </message>
    <message>
        <source>It is too dark</source>
        <translation>Es ist zu dunkel</translation>
    </message>
    <message>
        <source>The camera sees your eyes too poorly. Put more light on your face, from the front, and begin again.</source>
        <translation>Die Kamera sieht deine Augen zu schlecht. Bring mehr Licht von vorn auf dein Gesicht und beginne noch einmal.</translation>
    </message>
    <message>
        <source>The print was not measured, so 4 % of it comes on top.</source>
        <translation>Der Druck wurde nicht gemessen, darum kommen 4 % davon dazu.</translation>
    </message>
    <message>
        <source>A print at 94 % makes every length 6 % too large, also after the touch. Measuring it takes a ruler or a bank card and half a minute. Without it every distance to the card counts as known to 4 % only: 3 mm at 8 cm.</source>
        <translation>Ein Druck mit 94 % macht jede Länge 6 % zu groß, auch nach der Berührung. Messen dauert eine halbe Minute, mit einem Lineal oder einer Bankkarte. Ohne das gilt jeder Abstand zur Karte nur als auf 4 % bekannt: 3 mm bei 8 cm.</translation>
    </message>
</context>
<context>
    <name>nearpoint::CautionsPage</name>
    <message>
        <source>Stop at once, with the Escape key, when</source>
        <translation>Hör sofort auf, mit der Escape-Taste, wenn</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zur Startseite</translation>
    </message>
    <message>
        <source>When not to measure, and when to stop</source>
        <translation>Wann du nicht misst, und wann du aufhörst</translation>
    </message>
    <message>
        <source>Go to an emergency department at once with</source>
        <translation>Geh sofort in die Notaufnahme mit</translation>
    </message>
    <message>
        <source>See a doctor today, and do not measure, with</source>
        <translation>Geh noch heute in eine Arztpraxis und miss nicht mit</translation>
    </message>
    <message>
        <source>Only as your eye-care professional says, with</source>
        <translation>Nur so, wie deine Augenpraxis es sagt, bei</translation>
    </message>
    <message>
        <source>Tired eyes and a little blur for some minutes are usual. A child under twelve measures only with an adult. What your professional told you comes first.</source>
        <translation>Müde Augen und ein wenig Unschärfe für ein paar Minuten sind üblich. Ein Kind unter zwölf misst nur mit einem Erwachsenen. Was deine Augenpraxis dir gesagt hat, geht vor.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Answer the questions again</source>
        <translation>Die Fragen noch einmal beantworten</translation>
    </message>
</context>
<context>
    <name>nearpoint::ComfortPage</name>
    <message>
        <source>A little tired or blurred is usual. It should pass within minutes.</source>
        <translation>Etwas müde oder unscharf ist üblich. Es sollte in Minuten vergehen.</translation>
    </message>
</context>
<context>
    <name>nearpoint::DeletePersonPage</name>
    <message>
        <source>Keep everything</source>
        <translation>Alles behalten</translation>
    </message>
    <message>
        <source>Nobody is chosen</source>
        <translation>Niemand ist gewählt</translation>
    </message>
    <message>
        <source>Delete %1?</source>
        <translation>%1 löschen?</translation>
    </message>
    <message>
        <source>Delete all of this ...</source>
        <translation>All das löschen ...</translation>
    </message>
    <message>
        <source>What is removed from this computer</source>
        <translation>Was von diesem Rechner entfernt wird</translation>
    </message>
    <message numerus="yes">
        <source>%n measurement(s)</source>
        <translation>
            <numerusform>%n Messung</numerusform>
            <numerusform>%n Messungen</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n trial(s) in them</source>
        <translation>
            <numerusform>darin %n Durchgang</numerusform>
            <numerusform>darin %n Durchgänge</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n exercise session(s)</source>
        <translation>
            <numerusform>%n Übung</numerusform>
            <numerusform>%n Übungen</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n plan(s)</source>
        <translation>
            <numerusform>%n Plan</numerusform>
            <numerusform>%n Pläne</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n calibration(s)</source>
        <translation>
            <numerusform>%n Einmessung</numerusform>
            <numerusform>%n Einmessungen</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n picture(s) of the eyes</source>
        <translation>
            <numerusform>%n Bild der Augen</numerusform>
            <numerusform>%n Bilder der Augen</numerusform>
        </translation>
    </message>
    <message>
        <source>The address of your clinic&apos;s server, and its token in the keyring of this computer: nobody else is here who uses it</source>
        <translation>Die Adresse des Servers deiner Praxis und ihr Zugangsschlüssel im Schlüsselbund dieses Rechners: Sonst ist niemand hier, der sie benutzt</translation>
    </message>
    <message>
        <source>What you saved as a file elsewhere, and what was sent to a clinic, stays where it is. The key by which this computer seals files stays too: it says nothing about anybody.</source>
        <translation>Was du anderswo als Datei gespeichert hast und was an eine Praxis gesendet wurde, bleibt, wo es ist. Auch der Schlüssel, mit dem dieser Rechner Dateien versiegelt, bleibt: Er sagt über niemanden etwas aus.</translation>
    </message>
    <message>
        <source>The token of your clinic&apos;s server stays for the others at this computer.</source>
        <translation>Der Zugangsschlüssel für den Server deiner Praxis bleibt für die anderen an diesem Rechner.</translation>
    </message>
    <message>
        <source>Really? Nobody can bring it back.</source>
        <translation>Wirklich? Niemand kann es zurückholen.</translation>
    </message>
    <message>
        <source>Yes, delete everything</source>
        <translation>Ja, alles löschen</translation>
    </message>
    <message>
        <source>%1 is deleted</source>
        <translation>%1 ist gelöscht</translation>
    </message>
    <message>
        <source>✓ Nothing about %1 is left in the file of this computer.</source>
        <translation>✓ In der Datei dieses Rechners steht nichts mehr über %1.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>✓ The token of the server is gone from the keyring.</source>
        <translation>✓ Der Zugangsschlüssel für den Server ist aus dem Schlüsselbund entfernt.</translation>
    </message>
    <message>
        <source>The keyring of this computer cannot be reached: the token of the server may still be in it.</source>
        <translation>Der Schlüsselbund dieses Rechners ist nicht erreichbar: Der Zugangsschlüssel für den Server kann noch darin sein.</translation>
    </message>
    <message>
        <source>The name, the year of birth, and the answers to the questions before measuring</source>
        <translation>Der Name, das Geburtsjahr und die Antworten auf die Fragen vor dem Messen</translation>
    </message>
</context>
<context>
    <name>nearpoint::HomePage</name>
    <message>
        <source>Hello, %1</source>
        <translation>Hallo, %1</translation>
    </message>
    <message>
        <source>Hello</source>
        <translation>Hallo</translation>
    </message>
    <message>
        <source>What would you like to do?</source>
        <translation>Was möchtest du tun?</translation>
    </message>
    <message>
        <source>Practise a measurement</source>
        <translation>Eine Messung üben</translation>
    </message>
    <message>
        <source>Measure my near point</source>
        <translation>Meinen Nahpunkt messen</translation>
    </message>
    <message>
        <source>About five minutes. Eyes should be rested, glasses on if you read with them.</source>
        <translation>Etwa fünf Minuten. Mit ausgeruhten Augen, mit Brille, wenn du damit liest.</translation>
    </message>
    <message>
        <source>Do my exercise</source>
        <translation>Meine Übung machen</translation>
    </message>
    <message>
        <source>Push-ups with a check that both eyes take part.</source>
        <translation>Annähern und Halten, mit Prüfung, ob beide Augen mitmachen.</translation>
    </message>
    <message>
        <source>My diary</source>
        <translation>Mein Tagebuch</translation>
    </message>
    <message>
        <source>Days done, and how near you get over time.</source>
        <translation>Erledigte Tage und wie nah du mit der Zeit kommst.</translation>
    </message>
    <message>
        <source>Earlier results</source>
        <translation>Frühere Ergebnisse</translation>
    </message>
    <message>
        <source>All measurements on this computer.</source>
        <translation>Alle Messungen auf diesem Computer.</translation>
    </message>
    <message>
        <source>&quot;Two&quot; is not &quot;blurred&quot;</source>
        <translation>„Doppelt“ ist nicht „unscharf“</translation>
    </message>
    <message>
        <source>Look again at the difference and try it.</source>
        <translation>Den Unterschied noch einmal ansehen und ausprobieren.</translation>
    </message>
    <message>
        <source>Leave practice</source>
        <translation>Üben beenden</translation>
    </message>
    <message>
        <source>Practise with a simulated person</source>
        <translation>Mit einer simulierten Person üben</translation>
    </message>
    <message>
        <source>Cautions</source>
        <translation>Vorsicht</translation>
    </message>
    <message>
        <source>Somebody else</source>
        <translation>Jemand anderes</translation>
    </message>
    <message>
        <source>Go on with the measurement that was interrupted</source>
        <translation>Mit der unterbrochenen Messung weitermachen</translation>
    </message>
    <message>
        <source>School event</source>
        <translation>Reihenmessung an einer Schule</translation>
    </message>
    <message>
        <source>Send to my clinic</source>
        <translation>An meine Praxis senden</translation>
    </message>
    <message>
        <source>Chosen results, in a file that only they can open.</source>
        <translation>Ausgewählte Ergebnisse, in einer Datei, die nur sie öffnen kann.</translation>
    </message>
    <message>
        <source>For clinicians</source>
        <translation>Für Fachleute</translation>
    </message>
    <message>
        <source>Practise with the card</source>
        <translation>Mit der Karte üben</translation>
    </message>
    <message>
        <source>A simulated person shows the card; nothing of it is stored.</source>
        <translation>Eine simulierte Person zeigt die Karte; nichts davon wird gespeichert.</translation>
    </message>
    <message>
        <source>What was measured of your camera, your face and your hand cannot be read from the file any more, so ordinary values are used, as if nobody had measured them. Measure them again with the card.</source>
        <translation>Was von deiner Kamera, deinem Gesicht und deiner Hand gemessen wurde, lässt sich nicht mehr aus der Datei lesen; darum gelten übliche Werte, als hätte niemand sie gemessen. Miss sie mit der Karte noch einmal.</translation>
    </message>
    <message>
        <source>Answer the questions again</source>
        <translation>Die Fragen noch einmal beantworten</translation>
    </message>
    <message>
        <source>When it has passed, or when somebody has said that you may.</source>
        <translation>Wenn es vorbei ist, oder wenn jemand gesagt hat, dass du darfst.</translation>
    </message>
    <message>
        <source>I have asked somebody</source>
        <translation>Ich habe jemanden gefragt</translation>
    </message>
    <message>
        <source>Say whom, and you can go on.</source>
        <translation>Sag, wen, dann geht es weiter.</translation>
    </message>
    <message>
        <source>No round counts so far.</source>
        <translation>Bisher zählt kein Durchgang.</translation>
    </message>
    <message numerus="yes">
        <source>%n round(s) that count are safe and need not be repeated.</source>
        <translation>
            <numerusform>%n Durchgang, der zählt, ist gesichert und muss nicht wiederholt werden.</numerusform>
            <numerusform>%n Durchgänge, die zählen, sind gesichert und müssen nicht wiederholt werden.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::LagPage</name>
    <message>
        <source>How fast is your hand?</source>
        <translation>Wie schnell ist deine Hand?</translation>
    </message>
    <message>
        <source>Between seeing two and pressing, some time passes. If it is known, it can be taken out of the result.</source>
        <translation>Zwischen dem Doppeltsehen und dem Tastendruck vergeht etwas Zeit. Wenn sie bekannt ist, kann sie herausgerechnet werden.</translation>
    </message>
    <message>
        <source>When the letter becomes two, press any key as fast as you can. %1 times.</source>
        <translation>Wenn der Buchstabe doppelt wird, drück so schnell du kannst irgendeine Taste. %1-mal.</translation>
    </message>
    <message>
        <source>Begin</source>
        <translation>Anfangen</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
    <message>
        <source>Skipped: the time of young adults, about a third of a second, is used. Less exact by about 1 to 2 mm.</source>
        <translation>Übersprungen: Es gilt die Zeit junger Erwachsener, etwa eine Drittelsekunde. Um etwa 1 bis 2 mm ungenauer.</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Too early. Wait for two.</source>
        <translation>Zu früh. Warte auf zwei.</translation>
    </message>
    <message>
        <source>%1 of %2</source>
        <translation>%1 von %2</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>These times are too different from each other. Please try once more, or skip.</source>
        <translation>Diese Zeiten sind zu verschieden. Versuch es bitte noch einmal oder überspring es.</translation>
    </message>
    <message>
        <source>✓ About %1 seconds. That is taken into account from now on.</source>
        <translation>✓ Etwa %1 Sekunden. Das wird ab jetzt berücksichtigt.</translation>
    </message>
    <message>
        <source>The computer is late too, and that was taken out: the screen by %1 ± %2 thousandths of a second, a camera of %5 pictures a second by %3 ± %4. Both are reckoned from their rates, not measured; what is unsure about them makes the band of your result wider.</source>
        <translation>Auch der Rechner kommt zu spät, und das ist herausgerechnet: der Bildschirm um %1 ± %2 Tausendstel einer Sekunde, eine Kamera mit %5 Bildern in der Sekunde um %3 ± %4. Beides ist aus ihren Raten berechnet, nicht gemessen; was daran unsicher ist, macht das Band deines Ergebnisses breiter.</translation>
    </message>
    <message>
        <source>✓ About %1 seconds. This is practice, so nothing of it is stored.</source>
        <translation>✓ Etwa %1 Sekunden. Das ist Übung, darum wird nichts davon gespeichert.</translation>
    </message>
    <message>
        <source>Too late. Press as soon as it is two.</source>
        <translation>Zu spät. Drück, sobald es doppelt ist.</translation>
    </message>
</context>
<context>
    <name>nearpoint::LearnPage</name>
    <message>
        <source>&quot;Two&quot; is not &quot;blurred&quot;</source>
        <translation>„Doppelt“ ist nicht „unscharf“</translation>
    </message>
    <message>
        <source>Near your eyes the letter first gets blurred. Wait. Only when it is two, press.</source>
        <translation>Nah vor den Augen wird der Buchstabe zuerst unscharf. Warte. Erst wenn es zwei sind, drück.</translation>
    </message>
    <message>
        <source>One</source>
        <translation>Einer</translation>
    </message>
    <message>
        <source>go on</source>
        <translation>weiter</translation>
    </message>
    <message>
        <source>Blurred</source>
        <translation>Unscharf</translation>
    </message>
    <message>
        <source>still one: go on</source>
        <translation>immer noch einer: weiter</translation>
    </message>
    <message>
        <source>Two</source>
        <translation>Zwei</translation>
    </message>
    <message>
        <source>press now</source>
        <translation>jetzt drücken</translation>
    </message>
    <message>
        <source>Try it: is this two?</source>
        <translation>Probier es: Sind das zwei?</translation>
    </message>
    <message>
        <source>Yes, two</source>
        <translation>Ja, zwei</translation>
    </message>
    <message>
        <source>No, not two</source>
        <translation>Nein, nicht zwei</translation>
    </message>
    <message>
        <source>Four right answers in a row, and you know it.</source>
        <translation>Vier richtige Antworten hintereinander, dann kannst du es.</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>that was one</source>
        <translation>das war einer</translation>
    </message>
    <message>
        <source>that was one, only blurred</source>
        <translation>das war einer, nur unscharf</translation>
    </message>
    <message>
        <source>that was two</source>
        <translation>das waren zwei</translation>
    </message>
    <message>
        <source>Right: %1.</source>
        <translation>Richtig: %1.</translation>
    </message>
    <message>
        <source>Not quite: %1.</source>
        <translation>Nicht ganz: %1.</translation>
    </message>
    <message>
        <source>%1 of %2</source>
        <translation>%1 von %2</translation>
    </message>
    <message>
        <source>✓ You know the difference. Wait through the blur, press at two.</source>
        <translation>✓ Du kennst den Unterschied. Unscharf abwarten, bei zwei drücken.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Skipped: who mixes them up moves the result by about 4 cm.</source>
        <translation>Übersprungen: Wer beides verwechselt, verschiebt das Ergebnis um etwa 4 cm.</translation>
    </message>
    <message>
        <source>Skip</source>
        <translation>Überspringen</translation>
    </message>
</context>
<context>
    <name>nearpoint::LivePicture</name>
    <message>
        <source>Live picture of you</source>
        <translation>Livebild von dir</translation>
    </message>
</context>
<context>
    <name>nearpoint::MainWindow</name>
    <message>
        <source>Practice: a simulated person, no measurement</source>
        <translation>Übung: simulierte Person, keine Messung</translation>
    </message>
    <message>
        <source>Settings</source>
        <translation>Einstellungen</translation>
    </message>
    <message>
        <source>Practice</source>
        <translation>Übung</translation>
    </message>
    <message>
        <source>Try again</source>
        <translation>Noch einmal versuchen</translation>
    </message>
    <message numerus="yes">
        <source>%n thing(s) could not be written down. They are kept in memory and tried again.</source>
        <translation>
            <numerusform>Etwas konnte nicht gespeichert werden. Es bleibt im Arbeitsspeicher und wird noch einmal versucht.</numerusform>
            <numerusform>%n Dinge konnten nicht gespeichert werden. Sie bleiben im Arbeitsspeicher und werden noch einmal versucht.</numerusform>
        </translation>
    </message>
    <message>
        <source>Close the window again, and they are lost.</source>
        <translation>Schließ das Fenster noch einmal, und es ist verloren.</translation>
    </message>
</context>
<context>
    <name>nearpoint::MeasurePage</name>
    <message>
        <source>Measurement</source>
        <translation>Messung</translation>
    </message>
    <message>
        <source>Stop (Esc)</source>
        <translation>Aufhören (Esc)</translation>
    </message>
    <message>
        <source>One moment</source>
        <translation>Einen Moment</translation>
    </message>
    <message>
        <source>The camera is starting ...</source>
        <translation>Die Kamera startet ...</translation>
    </message>
    <message>
        <source>The camera stopped</source>
        <translation>Die Kamera hat aufgehört</translation>
    </message>
    <message>
        <source>Plug it in and press any key to go on.</source>
        <translation>Steck sie ein und drück irgendeine Taste, um weiterzumachen.</translation>
    </message>
    <message>
        <source>Only watch</source>
        <translation>Nur zuschauen</translation>
    </message>
    <message>
        <source>The simulated person presses the key.</source>
        <translation>Die simulierte Person drückt die Taste.</translation>
    </message>
    <message>
        <source>No round counts so far.</source>
        <translation>Bisher zählt kein Durchgang.</translation>
    </message>
    <message numerus="yes">
        <source>%n round(s) that count are safe.</source>
        <translation>
            <numerusform>%n Durchgang, der zählt, ist gesichert.</numerusform>
            <numerusform>%n Durchgänge, die zählen, sind gesichert.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::MeasureView</name>
    <message>
        <source>Practise: you press for the simulated person</source>
        <translation>Üben: Du drückst für die simulierte Person</translation>
    </message>
    <message>
        <source>How it goes</source>
        <translation>So geht es</translation>
    </message>
    <message>
        <source>The picture beside the camera shows what that person sees. Press any key when it becomes two, and again when it is one.</source>
        <translation>Das Bild neben der Kamera zeigt, was diese Person sieht. Drück irgendeine Taste, wenn es zwei werden, und noch einmal, wenn es wieder einer ist.</translation>
    </message>
    <message>
        <source>A soft steady tone says the pace is right. Several rounds follow, with a rest between them. Escape stops at every moment.</source>
        <translation>Ein leiser gleichmäßiger Ton sagt, dass das Tempo stimmt. Es folgen mehrere Durchgänge mit Pausen. Escape beendet es jederzeit.</translation>
    </message>
    <message>
        <source>Press any key, or click, to begin.</source>
        <translation>Drück irgendeine Taste oder klick, um anzufangen.</translation>
    </message>
    <message>
        <source>that person sees</source>
        <translation>das sieht die Person</translation>
    </message>
    <message numerus="yes">
        <source>%n second(s), or any key to go on at once.</source>
        <translation>
            <numerusform>%n Sekunde, oder irgendeine Taste, um gleich weiterzumachen.</numerusform>
            <numerusform>%n Sekunden, oder irgendeine Taste, um gleich weiterzumachen.</numerusform>
        </translation>
    </message>
    <message>
        <source>✓ heard: two</source>
        <translation>✓ verstanden: zwei</translation>
    </message>
    <message>
        <source>✓ heard: one again</source>
        <translation>✓ verstanden: wieder einer</translation>
    </message>
    <message>
        <source>Here your face stays and the card comes: hold it up, pattern to the camera, letter to your eyes, bring it slowly to your nose and back. Press any key as in the drawing. Escape stops at every moment.</source>
        <translation>Hier bleibt dein Gesicht, und die Karte kommt: Halte sie hoch, Muster zur Kamera, Buchstabe zu deinen Augen, führe sie langsam zur Nase und zurück. Drücke irgendeine Taste wie in der Zeichnung. Escape hört jederzeit auf.</translation>
    </message>
    <message>
        <source>That person keeps still and brings the card to the nose. The picture beside the camera shows what is seen. Press any key when it becomes two, and again when it is one.</source>
        <translation>Diese Person hält still und führt die Karte zur Nase. Das Bild neben der Kamera zeigt, was sie sieht. Drücke irgendeine Taste, wenn es zwei werden, und noch einmal, wenn es wieder einer ist.</translation>
    </message>
    <message numerus="yes">
        <source>%n second(s), or any key.</source>
        <translation>
            <numerusform>%n Sekunde, oder irgendeine Taste.</numerusform>
            <numerusform>%n Sekunden, oder irgendeine Taste.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::NearPointDrawing</name>
    <message>
        <source>Drawing of two eyes looking at a near letter</source>
        <translation>Zeichnung: zwei Augen schauen auf einen nahen Buchstaben</translation>
    </message>
    <message>
        <source>Far away both eyes meet on the letter and it is one. Nearer than the near point they no longer meet and it is two.</source>
        <translation>Weiter weg treffen sich beide Augen auf dem Buchstaben, und es ist einer. Näher als der Nahpunkt treffen sie sich nicht mehr, und es sind zwei.</translation>
    </message>
    <message>
        <source>too near: you see two</source>
        <translation>zu nah: du siehst zwei</translation>
    </message>
    <message>
        <source>farther away: you see one</source>
        <translation>weiter weg: du siehst einen</translation>
    </message>
</context>
<context>
    <name>nearpoint::NearPointScale</name>
    <message>
        <source>Your near point on a scale of distance from the eye</source>
        <translation>Dein Nahpunkt auf einer Skala der Entfernung vom Auge</translation>
    </message>
    <message>
        <source>Two at %1, band from %2 to %3.</source>
        <translation>Zwei bei %1, Bereich von %2 bis %3.</translation>
    </message>
    <message>
        <source>Usual limit %1.</source>
        <translation>Übliche Grenze %1.</translation>
    </message>
    <message>
        <source>cm from the front of the eye</source>
        <translation>cm von der Augenvorderseite</translation>
    </message>
    <message>
        <source>two at %1</source>
        <translation>zwei bei %1</translation>
    </message>
    <message>
        <source>one all the way, to %1</source>
        <translation>durchgehend einer, bis %1</translation>
    </message>
    <message>
        <source>two from the start, at %1</source>
        <translation>von Anfang an zwei, bei %1</translation>
    </message>
    <message>
        <source>most likely between %1 and %2</source>
        <translation>recht sicher zwischen %1 und %2</translation>
    </message>
    <message>
        <source>one again at %1</source>
        <translation>wieder einer bei %1</translation>
    </message>
    <message>
        <source>usual limit %1</source>
        <translation>übliche Grenze %1</translation>
    </message>
</context>
<context>
    <name>nearpoint::PaceGuide</name>
    <message>
        <source>How near you are</source>
        <translation>Wie nah du bist</translation>
    </message>
    <message>
        <source>far</source>
        <translation>fern</translation>
    </message>
    <message>
        <source>near</source>
        <translation>nah</translation>
    </message>
</context>
<context>
    <name>nearpoint::PastPage</name>
    <message>
        <source>Earlier results</source>
        <translation>Frühere Ergebnisse</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zur Startseite</translation>
    </message>
    <message>
        <source>Practice, no measurement.</source>
        <translation>Übung, keine Messung.</translation>
    </message>
    <message>
        <source>Nothing has been measured yet. Your results will be listed here.</source>
        <translation>Es wurde noch nichts gemessen. Hier stehen später deine Ergebnisse.</translation>
    </message>
</context>
<context>
    <name>nearpoint::PerceptPicture</name>
    <message>
        <source>A letter</source>
        <translation>Ein Buchstabe</translation>
    </message>
    <message>
        <source>One sharp letter</source>
        <translation>Ein scharfer Buchstabe</translation>
    </message>
    <message>
        <source>One blurred letter</source>
        <translation>Ein unscharfer Buchstabe</translation>
    </message>
    <message>
        <source>Two sharp letters side by side</source>
        <translation>Zwei scharfe Buchstaben nebeneinander</translation>
    </message>
</context>
<context>
    <name>nearpoint::PracticeCardPage</name>
    <message>
        <source>Practise with the card</source>
        <translation>Mit der Karte üben</translation>
    </message>
    <message>
        <source>A simulated person shows the card, and you see what the program asks for and how long each part takes. Nothing of it is stored, and it changes nobody&apos;s measurement.</source>
        <translation>Eine simulierte Person zeigt die Karte, und du siehst, was das Programm verlangt und wie lange jeder Teil dauert. Nichts davon wird gespeichert, und es ändert niemandes Messung.</translation>
    </message>
    <message>
        <source>→ The camera comes first.</source>
        <translation>→ Zuerst kommt die Kamera.</translation>
    </message>
    <message>
        <source>1. The camera</source>
        <translation>1. Die Kamera</translation>
    </message>
    <message>
        <source>✓ Practised.</source>
        <translation>✓ Geübt.</translation>
    </message>
    <message>
        <source>→ The card in tilts: about half a minute.</source>
        <translation>→ Die Karte in verschiedenen Neigungen: etwa eine halbe Minute.</translation>
    </message>
    <message>
        <source>2. The face</source>
        <translation>2. Das Gesicht</translation>
    </message>
    <message>
        <source>→ The card on the forehead: about a quarter of a minute.</source>
        <translation>→ Die Karte auf der Stirn: etwa eine Viertelminute.</translation>
    </message>
    <message>
        <source>3. The touch of the nose</source>
        <translation>3. Die Berührung der Nase</translation>
    </message>
    <message>
        <source>→ The card on the nose, and one key: about half a minute.</source>
        <translation>→ Die Karte auf der Nase und eine Taste: etwa eine halbe Minute.</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
</context>
<context>
    <name>nearpoint::ResultPage</name>
    <message>
        <source>Your near point</source>
        <translation>Dein Nahpunkt</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zur Startseite</translation>
    </message>
    <message>
        <source>The measurement was ended before its first trial, so there is no result.</source>
        <translation>Die Messung wurde vor dem ersten Durchgang beendet, also gibt es kein Ergebnis.</translation>
    </message>
    <message>
        <source>Show the details</source>
        <translation>Einzelheiten zeigen</translation>
    </message>
    <message>
        <source>Hide the details</source>
        <translation>Einzelheiten ausblenden</translation>
    </message>
    <message>
        <source>Trial to show</source>
        <translation>Gezeigter Durchgang</translation>
    </message>
    <message>
        <source>Trial %1</source>
        <translation>Durchgang %1</translation>
    </message>
    <message>
        <source>Trial</source>
        <translation>Durchgang</translation>
    </message>
    <message>
        <source>Two at</source>
        <translation>Zwei bei</translation>
    </message>
    <message>
        <source>One again</source>
        <translation>Wieder einer</translation>
    </message>
    <message>
        <source>Eyes left at</source>
        <translation>Auge wich ab bei</translation>
    </message>
    <message>
        <source>Counts</source>
        <translation>Zählt</translation>
    </message>
    <message>
        <source>– no</source>
        <translation>– nein</translation>
    </message>
    <message>
        <source>✓ yes</source>
        <translation>✓ ja</translation>
    </message>
    <message>
        <source>near point %1.json</source>
        <translation>Nahpunkt %1.json</translation>
    </message>
    <message>
        <source>Save as a file</source>
        <translation>Als Datei speichern</translation>
    </message>
    <message>
        <source>Session files (*.json)</source>
        <translation>Sitzungsdateien (*.json)</translation>
    </message>
    <message>
        <source>✓ Saved. The file holds numbers, no name and no picture.</source>
        <translation>✓ Gespeichert. Die Datei enthält Zahlen, keinen Namen und kein Bild.</translation>
    </message>
    <message>
        <source>Save for my professional ...</source>
        <translation>Für meine Fachleute speichern ...</translation>
    </message>
    <message>
        <source>The measurement is not written down yet. It is kept in memory and tried again: see above.</source>
        <translation>Die Messung ist noch nicht gespeichert. Sie bleibt im Arbeitsspeicher und wird noch einmal versucht: siehe oben.</translation>
    </message>
</context>
<context>
    <name>nearpoint::SafetyPage</name>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Back to the start</source>
        <translation>Zur Startseite</translation>
    </message>
    <message>
        <source>Before you begin</source>
        <translation>Bevor du anfängst</translation>
    </message>
    <message>
        <source>Since the last time</source>
        <translation>Seit dem letzten Mal</translation>
    </message>
    <message>
        <source>A child under twelve does this only with an adult.</source>
        <translation>Ein Kind unter zwölf macht das nur mit einem Erwachsenen.</translation>
    </message>
    <message>
        <source>Question %1 of %2</source>
        <translation>Frage %1 von %2</translation>
    </message>
    <message>
        <source>Yes</source>
        <translation>Ja</translation>
    </message>
    <message>
        <source>No</source>
        <translation>Nein</translation>
    </message>
    <message>
        <source>Whom did you ask whether you may go on?</source>
        <translation>Wen hast du gefragt, ob du weitermachen darfst?</translation>
    </message>
    <message>
        <source>My eye-care professional</source>
        <translation>Meine Augenpraxis</translation>
    </message>
    <message>
        <source>A doctor</source>
        <translation>Eine Arztpraxis</translation>
    </message>
    <message>
        <source>An emergency department</source>
        <translation>Eine Notaufnahme</translation>
    </message>
    <message>
        <source>Nobody yet</source>
        <translation>Noch niemanden</translation>
    </message>
    <message>
        <source>Nothing of this applies</source>
        <translation>Nichts davon trifft zu</translation>
    </message>
    <message>
        <source>Stop at once, with the Escape key, when</source>
        <translation>Hör sofort auf, mit der Escape-Taste, wenn</translation>
    </message>
    <message>
        <source>Tired eyes and a little blur for some minutes are usual.</source>
        <translation>Müde Augen und ein wenig Unschärfe für ein paar Minuten sind üblich.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Not now, please</source>
        <translation>Jetzt bitte nicht</translation>
    </message>
    <message>
        <source>Answer the questions again</source>
        <translation>Die Fragen noch einmal beantworten</translation>
    </message>
    <message>
        <source>When it has passed, or when somebody has said that you may.</source>
        <translation>Wenn es vorbei ist, oder wenn jemand gesagt hat, dass du darfst.</translation>
    </message>
    <message>
        <source>Practise with a simulated person</source>
        <translation>Probelauf mit einer simulierten Person</translation>
    </message>
    <message>
        <source>You can look around; nobody is measured.</source>
        <translation>Du kannst dich umsehen; niemand wird gemessen.</translation>
    </message>
    <message>
        <source>Please ask first</source>
        <translation>Bitte frag zuerst</translation>
    </message>
    <message>
        <source>Please fetch an adult first</source>
        <translation>Bitte hol zuerst einen Erwachsenen</translation>
    </message>
    <message>
        <source>A child under twelve measures and exercises only while an adult sits beside it.</source>
        <translation>Ein Kind unter zwölf misst und übt nur, während ein Erwachsener danebensitzt.</translation>
    </message>
    <message>
        <source>Exercises are for people whose eye-care professional told them to exercise. Ask there whether they are right for you.</source>
        <translation>Übungen sind für Menschen, denen ihre Augenpraxis dazu geraten hat. Frag dort, ob sie für dich richtig sind.</translation>
    </message>
    <message>
        <source>Before an exercise</source>
        <translation>Vor einer Übung</translation>
    </message>
</context>
<context>
    <name>nearpoint::ScreenLetter</name>
    <message>
        <source>The letter to look at</source>
        <translation>Der Buchstabe, auf den du schaust</translation>
    </message>
</context>
<context>
    <name>nearpoint::SettingsPage</name>
    <message>
        <source>Settings</source>
        <translation>Einstellungen</translation>
    </message>
    <message>
        <source>Set up again</source>
        <translation>Neu einrichten</translation>
    </message>
    <message>
        <source>Camera, light and target</source>
        <translation>Kamera, Licht und Buchstabe</translation>
    </message>
    <message>
        <source>Calibration by the card</source>
        <translation>Einmessen mit der Karte</translation>
    </message>
    <message>
        <source>How fast my hand is</source>
        <translation>Wie schnell meine Hand ist</translation>
    </message>
    <message>
        <source>Where your results are</source>
        <translation>Wo deine Ergebnisse liegen</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Language</source>
        <translation>Sprache</translation>
    </message>
    <message>
        <source>Size of the text</source>
        <translation>Schriftgröße</translation>
    </message>
    <message>
        <source>Tones and spoken words</source>
        <translation>Töne und gesprochene Worte</translation>
    </message>
    <message>
        <source>This computer has no sound device that can be used, so everything is shown only.</source>
        <translation>Dieser Computer hat kein nutzbares Tongerät, darum wird alles nur gezeigt.</translation>
    </message>
    <message>
        <source>Tones work. For spoken words this computer has no voice in this language.</source>
        <translation>Töne gehen. Für gesprochene Worte hat dieser Computer keine Stimme in dieser Sprache.</translation>
    </message>
    <message>
        <source>Tones and a voice work on this computer.</source>
        <translation>Töne und eine Stimme gehen auf diesem Computer.</translation>
    </message>
    <message>
        <source>Delete this person ...</source>
        <translation>Diese Person löschen ...</translation>
    </message>
    <message>
        <source>This file holds numbers, your answers to the questions before measuring, and pictures of the eyes only where somebody agreed to them under &quot;Send to my clinic&quot;. Nothing leaves this computer unless you send it.</source>
        <translation>Diese Datei enthält Zahlen, deine Antworten auf die Fragen vor dem Messen, und Bilder der Augen nur, wo jemand unter „An meine Praxis senden“ darin eingewilligt hat. Nichts verlässt diesen Rechner, außer du sendest es.</translation>
    </message>
</context>
<context>
    <name>nearpoint::StepsDrawing</name>
    <message>
        <source>The measurement in three pictures</source>
        <translation>Die Messung in drei Bildern</translation>
    </message>
    <message>
        <source>First lean slowly toward the letter under the camera. Then press any key as soon as you see two. Then go slowly back and press any key as soon as it is one again.</source>
        <translation>Beuge dich zuerst langsam zum Buchstaben unter der Kamera. Drück irgendeine Taste, sobald du zwei siehst. Geh dann langsam zurück und drück irgendeine Taste, sobald es wieder einer ist.</translation>
    </message>
    <message>
        <source>Lean in slowly. Look at the letter.</source>
        <translation>Langsam vorbeugen. Auf den Buchstaben schauen.</translation>
    </message>
    <message>
        <source>You see two? Press any key.</source>
        <translation>Du siehst zwei? Irgendeine Taste drücken.</translation>
    </message>
    <message>
        <source>Slowly back. One again? Press any key.</source>
        <translation>Langsam zurück. Wieder einer? Irgendeine Taste drücken.</translation>
    </message>
    <message>
        <source>First bring the card slowly to your nose and look at its letter. Then press any key as soon as you see two. Then move the card slowly back and press any key as soon as it is one again.</source>
        <translation>Führe zuerst die Karte langsam zur Nase und schau auf ihren Buchstaben. Drücke dann irgendeine Taste, sobald du zwei siehst. Bewege die Karte dann langsam zurück und drücke irgendeine Taste, sobald es wieder einer ist.</translation>
    </message>
    <message>
        <source>Bring the card slowly nearer. Look at its letter.</source>
        <translation>Karte langsam näher. Schau auf den Buchstaben.</translation>
    </message>
    <message>
        <source>Card slowly back. One again? Press any key.</source>
        <translation>Karte langsam zurück. Wieder einer? Irgendeine Taste drücken.</translation>
    </message>
</context>
<context>
    <name>nearpoint::TraceView</name>
    <message>
        <source>Course of trial %1</source>
        <translation>Verlauf von Durchgang %1</translation>
    </message>
    <message>
        <source>Two at %1.</source>
        <translation>Zwei bei %1.</translation>
    </message>
    <message>
        <source>One again at %1.</source>
        <translation>Wieder einer bei %1.</translation>
    </message>
    <message>
        <source>The camera saw the eyes in %1 % of the pictures.</source>
        <translation>Die Kamera sah die Augen in %1 % der Bilder.</translation>
    </message>
    <message>
        <source>There are no pictures of this trial.</source>
        <translation>Von diesem Durchgang gibt es keine Aufzeichnung.</translation>
    </message>
    <message>
        <source>Distance, cm</source>
        <translation>Entfernung, cm</translation>
    </message>
    <message>
        <source>two %1</source>
        <translation>zwei %1</translation>
    </message>
    <message>
        <source>one %1</source>
        <translation>eins %1</translation>
    </message>
    <message>
        <source>seconds</source>
        <translation>Sekunden</translation>
    </message>
    <message>
        <source>Eyes turned in, degrees; dashed: asked for</source>
        <translation>Augen nach innen gedreht, Grad; gestrichelt: verlangt</translation>
    </message>
    <message>
        <source>Each eye turned in, degrees</source>
        <translation>Jedes Auge einwärts, Grad</translation>
    </message>
</context>
<context>
    <name>nearpoint::TrialDots</name>
    <message numerus="yes">
        <source>%n trial(s) count so far</source>
        <translation>
            <numerusform>bisher zählt %n Durchgang</numerusform>
            <numerusform>bisher zählen %n Durchgänge</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::WelcomePage</name>
    <message>
        <source>Who is this for?</source>
        <translation>Für wen ist das?</translation>
    </message>
    <message>
        <source>This program measures how near something can come before you see it double. It works on this computer alone: no account, no network.</source>
        <translation>Dieses Programm misst, wie nah etwas kommen kann, bevor du es doppelt siehst. Es arbeitet allein auf diesem Computer: kein Konto, kein Netz.</translation>
    </message>
    <message>
        <source>Somebody new</source>
        <translation>Jemand Neues</translation>
    </message>
    <message>
        <source>a first name is enough</source>
        <translation>ein Vorname genügt</translation>
    </message>
    <message>
        <source>Name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>may stay empty</source>
        <translation>darf leer bleiben</translation>
    </message>
    <message>
        <source>Year of birth</source>
        <translation>Geburtsjahr</translation>
    </message>
    <message>
        <source>Decides which usual limit the result is held against.</source>
        <translation>Bestimmt, mit welcher üblichen Grenze das Ergebnis verglichen wird.</translation>
    </message>
    <message>
        <source>The year decides which usual limit your result is held against. Without it the one for adults is used.</source>
        <translation>Das Jahr bestimmt, mit welcher üblichen Grenze dein Ergebnis verglichen wird. Ohne Jahr gilt die für Erwachsene.</translation>
    </message>
    <message>
        <source>Continue</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Practise with a simulated person first</source>
        <translation>Zuerst mit einer simulierten Person üben</translation>
    </message>
    <message>
        <source>please write a name here</source>
        <translation>bitte hier einen Namen eintragen</translation>
    </message>
    <message>
        <source>School event</source>
        <translation>Reihenmessung an einer Schule</translation>
    </message>
    <message>
        <source>A child under twelve measures and exercises only with an adult beside it. That is asked each time.</source>
        <translation>Ein Kind unter zwölf misst und übt nur mit einem Erwachsenen daneben. Danach wird jedes Mal gefragt.</translation>
    </message>
    <message>
        <source>This year of birth cannot be right: four digits, such as 1990, or nothing.</source>
        <translation>Dieses Geburtsjahr kann nicht stimmen: vier Ziffern, etwa 1990, oder nichts.</translation>
    </message>
    <message>
        <source>Leave practice and continue</source>
        <translation>Probelauf verlassen und weiter</translation>
    </message>
</context>
</TS>
