//! What printing needs of the machine: its day, its fonts, and a mark of a file's text.

use std::sync::LazyLock;

use paper::Fonts;

/// Today, `2026-05-17`, in the machine's own time zone.
pub(crate) fn today() -> String {
    jiff::Zoned::now().date().to_string()
}

/// A mark that changes with the text of a car file: eight digits of its CRC-32, so that two prints can be told apart.
pub(crate) fn mark(text: &str) -> String {
    format!("{:08x}", crc32fast::hash(text.as_bytes()))
}

/// The page's face, with the machine's own for what it lacks. Made once: reading a machine's fonts takes a moment.
pub(crate) fn fonts() -> &'static Fonts {
    static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
        let mut machine = paper::fontdb::Database::new();
        machine.load_system_fonts();
        Fonts::with_fallback(machine)
    });
    &FONTS
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_changes_with_the_text() {
        // The check value of CRC-32 (ISO 3309; ITU-T V.42): "123456789" gives cbf43926 (remembered).
        assert_eq!(mark("123456789"), "cbf43926");
        assert_ne!(mark("a"), mark("b"));
        let today = today();
        assert!(today.len() == 10 && today.starts_with("20"), "{today}");
    }
}
