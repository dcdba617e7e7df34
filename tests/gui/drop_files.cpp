// Drops files on a window as a file manager does: holds them over its middle and lets go.
//     drop_files PATH...
// The window is the first one on the display that takes drops. 0: it took them; 1: none did, or not in time.
// Source: the XDND protocol, version 5, freedesktop.org, from memory.
#include <X11/Xatom.h>
#include <X11/Xlib.h>
#include <unistd.h>

#include <cstdio>
#include <cstring>
#include <string>

namespace {

constexpr long version = 5;
constexpr int tenths_to_wait = 300;

class Source {
public:
    Source(Display* display, std::string uris) : display_(display), uris_(std::move(uris)) {
        own_ = XCreateSimpleWindow(display_, DefaultRootWindow(display_), 0, 0, 1, 1, 0, 0, 0);
        XSetSelectionOwner(display_, atom("XdndSelection"), own_, CurrentTime);
    }

    bool drop_on(Window target) {
        XWindowAttributes size;
        XGetWindowAttributes(display_, target, &size);
        int x = 0, y = 0;
        Window child = 0;
        XTranslateCoordinates(display_, target, DefaultRootWindow(display_), size.width / 2, size.height / 2, &x, &y,
                              &child);
        send(target, "XdndEnter", version << 24, static_cast<long>(atom("text/uri-list")), 0, 0);
        const long place = (static_cast<long>(x) << 16) | y;
        send(target, "XdndPosition", 0, place, CurrentTime, static_cast<long>(atom("XdndActionCopy")));
        XEvent answer;
        if (!await("XdndStatus", answer) || !(answer.xclient.data.l[1] & 1))
            return false;
        send(target, "XdndDrop", 0, CurrentTime, 0, 0);
        return await("XdndFinished", answer);
    }

    Window taker(Window from) const {
        Atom type = 0;
        int format = 0;
        unsigned long count = 0, left = 0;
        unsigned char* data = nullptr;
        XGetWindowProperty(display_, from, atom("XdndAware"), 0, 1, False, AnyPropertyType, &type, &format, &count,
                           &left, &data);
        if (data)
            XFree(data);
        if (type != None)
            return from;
        Window root = 0, parent = 0, *children = nullptr, found = 0;
        unsigned int children_count = 0;
        XQueryTree(display_, from, &root, &parent, &children, &children_count);
        for (unsigned int k = 0; k < children_count && !found; ++k)
            found = taker(children[k]);
        if (children)
            XFree(children);
        return found;
    }

private:
    Atom atom(const char* name) const { return XInternAtom(display_, name, False); }

    void send(Window target, const char* what, long a, long b, long c, long d) {
        XEvent event{};
        event.xclient.type = ClientMessage;
        event.xclient.display = display_;
        event.xclient.window = target;
        event.xclient.message_type = atom(what);
        event.xclient.format = 32;
        event.xclient.data.l[0] = static_cast<long>(own_);
        event.xclient.data.l[1] = a;
        event.xclient.data.l[2] = b;
        event.xclient.data.l[3] = c;
        event.xclient.data.l[4] = d;
        XSendEvent(display_, target, False, NoEventMask, &event);
        XFlush(display_);
    }

    // Hands the list of files over to whoever asks for it.
    void hand_over(const XSelectionRequestEvent& asked) {
        XChangeProperty(display_, asked.requestor, asked.property, asked.target, 8, PropModeReplace,
                        reinterpret_cast<const unsigned char*>(uris_.data()), static_cast<int>(uris_.size()));
        XEvent done{};
        done.xselection.type = SelectionNotify;
        done.xselection.requestor = asked.requestor;
        done.xselection.selection = asked.selection;
        done.xselection.target = asked.target;
        done.xselection.property = asked.property;
        done.xselection.time = asked.time;
        XSendEvent(display_, asked.requestor, False, NoEventMask, &done);
        XFlush(display_);
    }

    bool await(const char* what, XEvent& event) {
        for (int tenth = 0; tenth < tenths_to_wait; ++tenth) {
            while (XPending(display_) > 0) {
                XNextEvent(display_, &event);
                if (event.type == SelectionRequest)
                    hand_over(event.xselectionrequest);
                else if (event.type == ClientMessage && event.xclient.message_type == atom(what))
                    return true;
            }
            usleep(100000);
        }
        std::fprintf(stderr, "drop_files: no %s\n", what);
        return false;
    }

    Display* display_;
    std::string uris_;
    Window own_ = 0;
};

// file:// and the path, with what is no plain character as %XX; each ends a line.
std::string uri_of(const char* path) {
    std::string uri = "file://";
    for (const char* c = path; *c; ++c) {
        const bool plain = std::strchr("/._-~", *c) || (*c >= '0' && *c <= '9') || (*c >= 'A' && *c <= 'Z') ||
                           (*c >= 'a' && *c <= 'z');
        char coded[4] = {*c, 0, 0, 0};
        if (!plain)
            std::snprintf(coded, sizeof coded, "%%%02X", static_cast<unsigned char>(*c));
        uri += coded;
    }
    return uri + "\r\n";
}

} // namespace

int main(int count, char** arguments) {
    std::string uris;
    for (int k = 1; k < count; ++k)
        uris += uri_of(arguments[k]);
    Display* display = XOpenDisplay(nullptr);
    if (!display || uris.empty()) {
        std::fprintf(stderr, "drop_files: %s\n", display ? "name the files" : "no display");
        return 1;
    }
    Source source(display, uris);
    const Window target = source.taker(DefaultRootWindow(display));
    if (!target)
        std::fprintf(stderr, "drop_files: no window takes drops\n");
    const bool dropped = target && source.drop_on(target);
    XCloseDisplay(display);
    return dropped ? 0 : 1;
}
