<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en_US" sourcelanguage="en_US">
<context>
    <name>ExerciseWords</name>
    <message numerus="yes">
        <source>%n time(s)</source>
        <translation>
            <numerusform>%n time</numerusform>
            <numerusform>%n times</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>on %n day(s) a week</source>
        <translation>
            <numerusform>on %n day a week</numerusform>
            <numerusform>on %n days a week</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::ExerciseAfter</name>
    <message numerus="yes">
        <source>(%n time(s))</source>
        <translation>
            <numerusform>(once)</numerusform>
            <numerusform>(%n times)</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::WeekView</name>
    <message numerus="yes">
        <source>%1: %n repetition(s)</source>
        <translation>
            <numerusform>%1: %n repetition</numerusform>
            <numerusform>%1: %n repetitions</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 of %n day(s)</source>
        <translation>
            <numerusform>%1 of %n day</numerusform>
            <numerusform>%1 of %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n day(s)</source>
        <translation>
            <numerusform>%n day</numerusform>
            <numerusform>%n days</numerusform>
        </translation>
    </message>
</context>
</TS>
