/** Whether this page comes up again with no network, and whether a newer one waits. Told by a service
 * worker that is active: a secure address alone does not mean that there is one. */

type Offline = "unknown" | "kept" | "notKept";

class OfflineCopy {
  state = $state<Offline>("unknown");
  private waiting = $state.raw<ServiceWorker | null>(null);
  newer = $derived(this.waiting !== null);
  private asked = false;

  async start(): Promise<void> {
    if (!("serviceWorker" in navigator) || import.meta.env.DEV) {
      this.state = "notKept";
      return;
    }
    try {
      const registration = await navigator.serviceWorker.register("sw.js", { scope: "./" });
      this.watch(registration);
      await navigator.serviceWorker.ready;
      this.state = registration.active ? "kept" : "notKept";
    } catch {
      this.state = "notKept";
    }
    navigator.serviceWorker.addEventListener("controllerchange", () => this.asked && location.reload());
  }

  private watch(registration: ServiceWorkerRegistration): void {
    const look = () => (this.waiting = navigator.serviceWorker.controller ? registration.waiting : null);
    look();
    registration.addEventListener("updatefound", () => {
      registration.installing?.addEventListener("statechange", look);
    });
  }

  /** Change to the newer page, in this tab. */
  change(): void {
    this.asked = true;
    this.waiting?.postMessage({ type: "SKIP_WAITING" });
  }
}

export const offline = new OfflineCopy();
