// A linked vertex and fragment shader. Needs a current OpenGL 3.3 context; stops the program when a shader does not
// compile, for the sources are ours.
#pragma once

#include <Eigen/Core>

#include <string>

namespace holdtrue::app::gl {

class Shader {
public:
    Shader(const char* vertex_source, const char* fragment_source);
    ~Shader();
    Shader(const Shader&) = delete;
    Shader& operator=(const Shader&) = delete;

    void use() const;
    void set(const char* name, int value) const;
    void set(const char* name, float value) const;
    void set(const char* name, const Eigen::Vector2f& value) const;
    void set(const char* name, const Eigen::Vector3f& value) const;
    void set(const char* name, const Eigen::Matrix4f& value) const;
    void set(const char* name, const float* values, int count) const;

private:
    unsigned program_ = 0;
};

} // namespace holdtrue::app::gl
