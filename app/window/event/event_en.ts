<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en_US" sourcelanguage="en_US">
<context>
    <name>EventWords</name>
    <message numerus="yes">
        <source>! No connection. Go on as usual: %n record(s) wait here and follow later.</source>
        <translation>
            <numerusform>! No connection. Go on as usual: %n record waits here and follows later.</numerusform>
            <numerusform>! No connection. Go on as usual: %n records wait here and follow later.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n round(s) are safe here</source>
        <translation>
            <numerusform>%n round is safe here</numerusform>
            <numerusform>%n rounds are safe here</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n entry (entries) of this station could not be written. Do not close the program: they are kept and tried again.</source>
        <translation>
            <numerusform>%n entry of this station could not be written. Do not close the program: it is kept and tried again.</numerusform>
            <numerusform>%n entries of this station could not be written. Do not close the program: they are kept and tried again.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::EventAfterPage</name>
    <message numerus="yes">
        <source>%n letter(s) are in the file.</source>
        <translation>
            <numerusform>%n letter is in the file.</numerusform>
            <numerusform>%n letters are in the file.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n child(ren) are in the tables.</source>
        <translation>
            <numerusform>%n child is in the tables.</numerusform>
            <numerusform>%n children are in the tables.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::EventPage</name>
    <message numerus="yes">
        <source>An older version had handed %n record(s) to the server unsealed: erase the server&apos;s folder (app/event-server erase).</source>
        <translation>
            <numerusform>An older version had handed %n record to the server unsealed: erase the server&apos;s folder (app/event-server erase).</numerusform>
            <numerusform>An older version had handed %n records to the server unsealed: erase the server&apos;s folder (app/event-server erase).</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::EventRosterPage</name>
    <message numerus="yes">
        <source>✓ %n children, nothing wrong.</source>
        <translation>
            <numerusform>✓ %n child, nothing wrong.</numerusform>
            <numerusform>✓ %n children, nothing wrong.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::StationPage</name>
    <message numerus="yes">
        <source>%n round(s) are safe on this computer.</source>
        <translation>
            <numerusform>%n round is safe on this computer.</numerusform>
            <numerusform>%n rounds are safe on this computer.</numerusform>
        </translation>
    </message>
</context>
</TS>
