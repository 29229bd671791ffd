//! What people typed, made fit to be set.
//!
//! Text goes to the template as data and is never read as markup, so its own signs need no care.
//! Four things do: signs that no face of ours can draw, which would leave a hole; control
//! signs, which a lasting file may not hold; letters typed as two signs; and a word longer than a
//! line.

use serde_json::Value;
use unicode_normalization::UnicodeNormalization;

use crate::typeface::FACES;

/// Stands for a sign that the typeface cannot draw.
const BOX: char = '\u{25A1}';

/// Lets a line break inside a word, unseen.
const BREAK: char = '\u{200B}';

/// A word longer than this many signs may break inside.
const LONG_WORD: usize = 20;

/// The pieces that a long word may break into.
const PIECE: usize = 5;

/// Makes every text in the page data fit to be set, and says whether a sign had to be replaced.
pub(crate) fn fit_all(value: &mut Value) -> bool {
    match value {
        Value::String(text) => {
            let (fitted, replaced) = fit(text);
            *text = fitted;
            replaced
        }
        Value::Array(items) => items.iter_mut().fold(false, |any, item| fit_all(item) | any),
        Value::Object(fields) => {
            fields.iter_mut().fold(false, |any, (_, field)| fit_all(field) | any)
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => false,
    }
}

/// One text made fit to be set, and whether a sign had to be replaced.
fn fit(text: &str) -> (String, bool) {
    let mut replaced = false;
    let signs = text.nfc().filter_map(|sign| match sign {
        space if space.is_whitespace() && space != '\u{A0}' => Some(' '),
        unseen if is_unseen(unseen) => None,
        known if FACES.draws(known) => Some(known),
        _ => {
            replaced = true;
            Some(BOX)
        }
    });
    let plain: String = signs.collect();
    let words: Vec<String> = plain.split(' ').map(breakable).collect();
    (words.join(" "), replaced)
}

/// A word, with places to break where it is longer than a column may be wide.
fn breakable(word: &str) -> String {
    let long = word.chars().count() > LONG_WORD;
    let mut fitted = String::with_capacity(word.len());
    for (index, sign) in word.chars().enumerate() {
        if long && index > 0 && index % PIECE == 0 {
            fitted.push(BREAK);
        }
        fitted.push(sign);
    }
    fitted
}

/// Controls and marks that steer other text and show nothing themselves.
fn is_unseen(sign: char) -> bool {
    sign.is_control()
        || matches!(sign,
            '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fitted(text: &str) -> String {
        fit(text).0
    }

    #[test]
    fn plain_text_stays_as_typed() {
        let text = "#strong[no] *a* _b_ @c $d$ <e> \\ \"f\" 'g' `h` // i";
        assert_eq!(fit(text), (text.to_owned(), false));
    }

    #[test]
    fn what_cannot_be_drawn_shows_as_a_box() {
        assert_eq!(fit("tidy \u{1F44D} work \u{5DE5}"), ("tidy □ work □".to_owned(), true));
    }

    #[test]
    fn unseen_signs_go_and_any_space_is_a_space() {
        assert_eq!(fitted("a\u{0}b\u{202E}c\td\ne\u{FEFF}"), "abc d e");
    }

    #[test]
    fn letters_typed_in_two_signs_become_one() {
        assert_eq!(fitted("Nguye\u{302}\u{303}n"), "Nguyễn");
    }

    #[test]
    fn a_word_longer_than_a_line_may_break() {
        let long = "x".repeat(60);
        assert!(fitted(&long).contains(BREAK));
        assert_eq!(fitted(&long).replace(BREAK, ""), long);
        assert!(!fitted(&"y".repeat(LONG_WORD)).contains(BREAK));
    }
}
