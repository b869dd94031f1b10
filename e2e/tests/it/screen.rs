//! Screens that pages are looked at on.

/// One of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Screen {
    pub(crate) name: &'static str,
    pub(crate) width: u32,
    pub(crate) height: u32,
    /// By fingers.
    pub(crate) touched: bool,
}

impl Screen {
    pub(crate) const PHONE: Self = Self::touched("phone", 360, 740);
    pub(crate) const LARGE_PHONE: Self = Self::touched("large phone", 390, 844);
    pub(crate) const TABLET: Self = Self::touched("tablet", 820, 1180);
    pub(crate) const DESKTOP: Self = Self::plain("desktop", 1280, 900);
    /// A desktop at four times its size, or the narrowest phone: nothing may be pushed aside on it.
    pub(crate) const NARROWEST: Self = Self::plain("320", 320, 640);
    pub(crate) const WIDEST: Self = Self::plain("4k", 3840, 2160);

    const fn plain(name: &'static str, width: u32, height: u32) -> Self {
        Self {
            name,
            width,
            height,
            touched: false,
        }
    }

    const fn touched(name: &'static str, width: u32, height: u32) -> Self {
        Self {
            name,
            width,
            height,
            touched: true,
        }
    }
}

/// By day or by night.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Theme {
    Light,
    Dark,
}

impl Theme {
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }
}
