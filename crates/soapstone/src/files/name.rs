//! File names that every system takes, from whatever a car or a plate is called.

/// Longest part of a name [bytes].
const LONGEST: usize = 60;

/// What is a device and no file on some systems (remembered).
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// Small letters, figures and hyphens: `Plover, whole` is `plover-whole`. What has no letter or figure at all is `car`.
pub(crate) fn safe(words: &str) -> String {
    let mut out = String::new();
    for c in words.chars() {
        let plain = match c {
            'ä' | 'Ä' => "ae",
            'ö' | 'Ö' => "oe",
            'ü' | 'Ü' => "ue",
            'ß' => "ss",
            _ => "",
        };
        if !plain.is_empty() {
            out.push_str(plain);
        } else if c.is_ascii_alphanumeric() {
            out.push(c.to_ascii_lowercase());
        } else if !out.ends_with('-') {
            out.push('-');
        }
        if out.len() >= LONGEST {
            break;
        }
    }
    let out = out.trim_matches('-');
    if out.is_empty() || DEVICES.contains(&out) { "car".into() } else { out.to_string() }
}

#[cfg(test)]
mod tests {
    use super::safe;

    #[test]
    fn odd_names_become_plain_ones() {
        for (odd, plain) in [
            ("Plover, whole", "plover-whole"),
            ("../../etc/passwd", "etc-passwd"),
            ("a\"b\r\nc: d", "a-b-c-d"),
            ("Grünspan №5", "gruenspan-5"),
            ("燕", "car"),
            ("", "car"),
            ("NUL", "car"),
        ] {
            assert_eq!(safe(odd), plain);
        }
        assert!(safe(&"x".repeat(500)).len() <= 62);
    }
}
