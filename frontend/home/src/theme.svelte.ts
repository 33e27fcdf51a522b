/** Light, dark, or as the system has it. Kept on this machine only. */

export type Theme = "system" | "light" | "dark";

const KEY = "nextpair-theme";

class Choice {
  theme = $state<Theme>(kept());

  constructor() {
    this.show();
  }

  choose(theme: Theme): void {
    this.theme = theme;
    localStorage.setItem(KEY, theme);
    this.show();
  }

  private show(): void {
    const root = document.documentElement;
    if (this.theme === "system") delete root.dataset.theme;
    else root.dataset.theme = this.theme;
  }
}

function kept(): Theme {
  const theme = localStorage.getItem(KEY);
  return theme === "light" || theme === "dark" ? theme : "system";
}

export const choice = new Choice();
