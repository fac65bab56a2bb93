/** What is said of a scale at a serial port (rule W13). */
import { say } from '#shared/words/say.ts';

export const PORT_WORDS = {
  title: say`Scale on a cable`,
  connect: say`Connect`,
  disconnect: say`Disconnect`,
  none: say`Not connected. The browser asks which port; the settings are those of the scale.`,
  noPermission: say`No port was chosen. Press Connect and choose the one that the scale is on.`,
  busy: say`The port cannot be opened: another program may have it. Close that, or pull the plug and put it in again.`,
  opening: say`Opening the port.`,
  listening: say`Connected. Nothing has come yet: press the print key of the scale, or let it send by itself.`,
  noLine: say`Something comes, and no line ends in it: check speed and parity, and that the scale ends a line with CR or LF.`,
  gone: say`The scale is unplugged. What is typed stays; plug it in and connect again.`,
  take: say`Take it`,
  byItself: say`Take it by itself when the scale is at rest`,
  baud: say`Speed (baud)`,
  parity: say`Parity`,
  dataBits: say`Data bits`,
  comma: say`This scale writes a comma as the decimal sign`,
  parities: [
    { value: 'none', words: say`none` },
    { value: 'even', words: say`even` },
    { value: 'odd', words: say`odd` },
  ],
} as const;
