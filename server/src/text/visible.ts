/** Control signs and those that turn the direction of writing, which could upset a terminal. */
const controls = /[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]/gu;

/** The text with signs that can be seen in place of control signs; a tab becomes one space. */
export const visible = (text: string): string =>
  text.replace(controls, (sign) => {
    const unit = sign.charCodeAt(0);
    if (sign === "\t") return " ";
    if (unit < 0x20) return String.fromCharCode(0x2400 + unit);
    return unit === 0x7f ? "␡" : "�";
  });
