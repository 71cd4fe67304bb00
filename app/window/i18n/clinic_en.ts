<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en_US" sourcelanguage="en_US">
<context>
    <name>PackageWords</name>
    <message numerus="yes">
        <source>The measurement of %1: %n trial(s) with distances, times and what the eyes did, the estimate, and how your eyes felt.</source>
        <translation>
            <numerusform>The measurement of %1: %n trial with distances, times and what the eyes did, the estimate, and how your eyes felt.</numerusform>
            <numerusform>The measurement of %1: %n trials with distances, times and what the eyes did, the estimate, and how your eyes felt.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>The exercise diary: %n session(s) with day, repetitions, the nearest pair held, and how your eyes felt.</source>
        <translation>
            <numerusform>The exercise diary: %n session with day, repetitions, the nearest pair held, and how your eyes felt.</numerusform>
            <numerusform>The exercise diary: %n sessions with day, repetitions, the nearest pair held, and how your eyes felt.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n grey picture(s) of your two eyes at break and recovery, never of the whole face; no sound.</source>
        <translation>
            <numerusform>%n grey picture of your two eyes at break or recovery, never of the whole face; no sound.</numerusform>
            <numerusform>%n grey pictures of your two eyes at break and recovery, never of the whole face; no sound.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::ClinicSessionPage</name>
    <message numerus="yes">
        <source>%1 of %n trial(s) count.</source>
        <translation>
            <numerusform>%1 of %n trial counts.</numerusform>
            <numerusform>%1 of %n trials count.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::ClinicSetupPage</name>
    <message numerus="yes">
        <source>Whole: %n entries, each tied to the one before.</source>
        <translation>
            <numerusform>Whole: %n entry.</numerusform>
            <numerusform>Whole: %n entries, each tied to the one before.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::EyePictureChoice</name>
    <message numerus="yes">
        <source>%n picture(s) are kept.</source>
        <translation>
            <numerusform>%n picture is kept.</numerusform>
            <numerusform>%n pictures are kept.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::PatientPage</name>
    <message numerus="yes">
        <source>%n file(s) were written to %1. They name the person.</source>
        <translation>
            <numerusform>%n file was written to %1. It names the person.</numerusform>
            <numerusform>%n files were written to %1. They name the person.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::PatientsPage</name>
    <message numerus="yes">
        <source>Receive (%n waiting)</source>
        <translation>
            <numerusform>Receive (%n waiting)</numerusform>
            <numerusform>Receive (%n waiting)</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 of %n patient(s) have something that asks for a look, the most urgent first.</source>
        <translation>
            <numerusform>%1 of %n patient has something that asks for a look.</numerusform>
            <numerusform>%1 of %n patients have something that asks for a look, the most urgent first.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>nearpoint::ReceivePage</name>
    <message numerus="yes">
        <source>%n new measurement(s) of %1.</source>
        <translation>
            <numerusform>%n new measurement of %1.</numerusform>
            <numerusform>%n new measurements of %1.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n were here already.</source>
        <translation>
            <numerusform>%n was here already.</numerusform>
            <numerusform>%n were here already.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n file(s) inside.</source>
        <translation>
            <numerusform>%n file inside.</numerusform>
            <numerusform>%n files inside.</numerusform>
        </translation>
    </message>
</context>
</TS>
